namespace CardScan.Vision;

/// <summary>Stretches of equal values.</summary>
internal static class Runs
{
    /// <summary>The runs in order: value, first index, and the index behind the last.</summary>
    public static IEnumerable<(T Value, int Start, int End)> Of<T>(T[] values)
    {
        for (int start = 0; start < values.Length;)
        {
            int end = start;
            while (end < values.Length && EqualityComparer<T>.Default.Equals(values[end], values[start])) end++;
            yield return (values[start], start, end);
            start = end;
        }
    }
}
