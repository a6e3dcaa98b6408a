using System.Numerics;

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

    /// <summary>Adds factor · values to as many sums, several at a time; each comes out as if by itself, to the last digit.</summary>
    public static void AddScaled(Span<double> sums, double factor, ReadOnlySpan<double> values)
    {
        int i = 0;
        for (; i <= sums.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(sums[i..]) + factor * new Vector<double>(values[i..])).CopyTo(sums[i..]);
        for (; i < sums.Length; i++) sums[i] += factor * values[i];
    }
}
