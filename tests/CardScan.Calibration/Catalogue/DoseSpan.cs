namespace CardScan.Calibration;

/// <summary>The effective doses of a card's cells, increasing; cells without any light left out.</summary>
internal sealed record DoseSpan(double[] Doses)
{
    public static DoseSpan Of(IEnumerable<double> doses) => new([.. doses.Where(dose => dose > 0).Order()]);

    public double Least => Doses[0];

    public double Most => Doses[^1];

    /// <summary>The dose that lies this share of the way from the least to the most, by ratio; also outside of 0 to 1.</summary>
    public double At(double share) => Least * Math.Pow(Most / Least, share);

    /// <summary>A dose that so many cells pass.</summary>
    public double PassedBy(int cells) => Math.Sqrt(Doses[^(cells + 1)] * Doses[^cells]);
}
