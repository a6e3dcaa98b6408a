namespace CardScan.Scoring.Comparing;

/// <summary>Control limits of single values in their order.</summary>
/// <param name="Centre">Mean.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <remarks>
/// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: mean ± 3 · mean moving range / 1.128 (d₂ of two values). A
/// run of six all rising or all falling counts as a trend (6.3.2).
/// </remarks>
internal sealed record IndividualsChart(double Centre, double Lower, double Upper)
{
    private const double D2 = 1.128;
    private const int TrendLength = 6;

    /// <summary>The limits of two values or more.</summary>
    public static IndividualsChart Of(IReadOnlyList<double> values)
    {
        double deviation = DeviationOf([.. values.Zip(values.Skip(1), (a, b) => Math.Abs(b - a))]);
        double centre = values.Average();
        return new(centre, centre - 3 * deviation, centre + 3 * deviation);
    }

    /// <summary>The standard deviation that the ranges from one value to the next tell.</summary>
    public static double DeviationOf(IReadOnlyList<double> movingRanges) => movingRanges.Average() / D2;

    public bool IsOutside(double value) => value < Lower || value > Upper;

    /// <summary>+1 where the last six values all rise, −1 where they all fall, else 0.</summary>
    public static int TrendOf(IReadOnlyList<double> values)
    {
        if (values.Count < TrendLength) return 0;
        double[] steps = [.. values.Zip(values.Skip(1), (a, b) => b - a).TakeLast(TrendLength - 1)];
        return steps.All(step => step > 0) ? 1 : steps.All(step => step < 0) ? -1 : 0;
    }
}
