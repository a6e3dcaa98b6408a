using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>Sums of Fisher information, as lower triangles.</summary>
internal static class Information
{
    public static double[] None(PlausibleLaw law) => new double[SmallMatrix.PackedLength(law.Size)];

    public static void AddTo(Span<double> sum, ReadOnlySpan<double> more)
    {
        for (int i = 0; i < sum.Length; i++) sum[i] += more[i];
    }

    /// <summary>What a grid of cells would tell.</summary>
    public static double[] OfGrid(PlausibleLaw law, IReadOnlyCollection<double> powers, IReadOnlyCollection<double> speeds)
    {
        double[] sum = None(law);
        foreach (double power in powers)
        {
            foreach (double speed in speeds) law.Add(sum, Math.Log(power), Math.Log(speed));
        }

        return sum;
    }

    /// <summary>What a card tells of the law where it has a chance of its own.</summary>
    public static double[] WithOwnChance(ReadOnlySpan<double> card, PlausibleLaw law)
    {
        double[] left = card.ToArray();
        EliminateOwnChance(left, law);
        return left;
    }

    /// <summary>The same in place.</summary>
    /// <remarks>
    /// The card's own shift of a parameter is one more parameter, known to its chance τ alone; eliminating it takes I e
    /// eᵀ I / (1 / τ² + eᵀ I e).
    /// </remarks>
    public static void EliminateOwnChance(Span<double> card, PlausibleLaw law)
    {
        Span<double> column = stackalloc double[law.Size];
        foreach ((int parameter, double deviation) in law.OwnOfACard)
        {
            if (!(deviation > 0)) continue;
            for (int i = 0; i < column.Length; i++)
                column[i] = i >= parameter ? card[i * (i + 1) / 2 + parameter] : card[parameter * (parameter + 1) / 2 + i];
            double divisor = 1 / (deviation * deviation) + column[parameter];
            int at = 0;
            for (int i = 0; i < column.Length; i++)
                for (int j = 0; j <= i; j++) card[at++] -= column[i] * column[j] / divisor;
        }
    }

    /// <summary>Variance of the ln power at the limit at a speed; infinite where nothing is known.</summary>
    public static double LimitVariance(PlausibleLaw law, ReadOnlySpan<double> information, double lnSpeed)
    {
        Span<double> root = stackalloc double[information.Length], gradient = stackalloc double[law.Size];
        law.LimitGradient(lnSpeed, gradient);
        return SmallMatrix.TryFactor(information, law.Size, root, out _)
            ? SmallMatrix.QuadraticOfInverse(root, gradient)
            : double.PositiveInfinity;
    }

    /// <summary>Half width of the 95 % interval of a power whose logarithm has a variance, percent of that power.</summary>
    public static double HalfWidthPercent(double variance) => 100 * Math.Sinh(NormalQuantile.TwoSided95 * Math.Sqrt(variance));
}
