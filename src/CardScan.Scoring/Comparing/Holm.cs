namespace CardScan.Scoring.Comparing;

/// <summary>Probabilities adjusted for the number of tests.</summary>
/// <remarks>S. Holm, Scand. J. Statist. 6 (1979) 65–70: holds the chance of any false alarm among all tests at the level.</remarks>
internal static class Holm
{
    /// <summary>Adjusted probabilities, in the order given.</summary>
    public static double[] Adjust(IReadOnlyList<double> probabilities)
    {
        double[] adjusted = new double[probabilities.Count];
        double largest = 0;
        foreach ((int rank, int index) in Enumerable.Range(0, adjusted.Length).OrderBy(i => probabilities[i]).Index())
        {
            largest = Math.Max(largest, Math.Min(1, (adjusted.Length - rank) * probabilities[index]));
            adjusted[index] = largest;
        }

        return adjusted;
    }
}
