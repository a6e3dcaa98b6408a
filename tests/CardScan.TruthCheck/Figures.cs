namespace CardScan.TruthCheck;

/// <summary>Figures of agreement.</summary>
internal static class Figures
{
    /// <summary>Root of the mean square; NaN of nothing.</summary>
    public static double Rms(IEnumerable<double> values)
    {
        double[] all = [.. values];
        return all.Length == 0 ? double.NaN : Math.Sqrt(all.Average(value => value * value));
    }

    /// <summary>Spearman's rank correlation: Pearson's of the ranks, ties sharing their mean rank.</summary>
    public static double Spearman(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        double[] a = Ranks(first), b = Ranks(second);
        double meanA = a.Average(), meanB = b.Average();
        double ab = 0, aa = 0, bb = 0;
        for (int i = 0; i < a.Length; i++)
        {
            ab += (a[i] - meanA) * (b[i] - meanB);
            aa += Math.Pow(a[i] - meanA, 2);
            bb += Math.Pow(b[i] - meanB, 2);
        }

        return ab / Math.Sqrt(aa * bb);
    }

    private static double[] Ranks(IReadOnlyList<double> values) =>
        [.. values.Select(value => values.Count(other => other < value) + (values.Count(other => other == value) - 1) / 2.0)];
}
