namespace CardScan.Scoring.Fitting;

/// <summary>Arithmetic of plain arrays.</summary>
internal static class Vectors
{
    /// <summary>Sum of products of as many elements as the first has.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }
}
