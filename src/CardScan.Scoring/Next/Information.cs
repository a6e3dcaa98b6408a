using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next;

/// <summary>Sums of Fisher information over the cells of a grid.</summary>
internal static class Information
{
    /// <summary>What a grid of cells would tell, on top of what is known already.</summary>
    public static double[,] OfGrid(CardKnowledge card, IEnumerable<double> powers, IReadOnlyCollection<double> speeds, bool withKnown)
    {
        double[,] sum = withKnown ? (double[,])card.Known.Clone() : new double[CardKnowledge.Parameters, CardKnowledge.Parameters];
        foreach (double power in powers)
        {
            foreach (double speed in speeds) card.Add(sum, Math.Log(power), Math.Log(speed));
        }

        return sum;
    }

    /// <summary>ln of the determinant; −∞ where it is singular.</summary>
    public static double LnDeterminant(double[,] information) =>
        SmallMatrix.Inverse(information, out double ln) is null ? double.NegativeInfinity : ln;

    /// <summary>Half width of the 95 % interval of the limit's power at some speed, percent of that power; infinite where nothing is known.</summary>
    public static double HalfWidthPercent(CardKnowledge card, double[,] information, double lnSpeed)
    {
        if (SmallMatrix.Inverse(information, out _) is not { } covariance) return double.PositiveInfinity;
        double[] gradient = card.LimitGradient(lnSpeed);
        double variance = 0;
        for (int j = 0; j < gradient.Length; j++)
        {
            for (int k = 0; k < gradient.Length; k++) variance += gradient[j] * covariance[j, k] * gradient[k];
        }

        // The interval of the logarithm, as powers.
        return 100 * Math.Sinh(NormalQuantile.TwoSided95 * Math.Sqrt(Math.Max(0, variance)));
    }
}
