namespace CardScan.Reporting;

/// <summary>Where a value lies along an axis whose columns or rows are drawn evenly spaced.</summary>
internal static class AxisPlace
{
    /// <summary>The place of a value: 0 at the first value, 1 at the second; between two values in proportion.</summary>
    /// <param name="values">Values of the axis.</param>
    /// <param name="value">The value sought.</param>
    /// <returns>−0.5 to n − 0.5, the edges of the grid, where the value lies beyond; null where the axis has one value or no order.</returns>
    public static double? Of(IReadOnlyList<double> values, double value)
    {
        if (values.Count < 2 || !double.IsFinite(value)) return null;
        double sign = Math.Sign(values[1] - values[0]);
        for (int i = 1; i < values.Count; i++)
        {
            if (!(sign * (values[i] - values[i - 1]) > 0)) return null;
        }

        int next = 1;
        while (next < values.Count - 1 && sign * (value - values[next]) > 0) next++;
        double place = next - 1 + (value - values[next - 1]) / (values[next] - values[next - 1]);
        return Math.Clamp(place, -0.5, values.Count - 0.5);
    }
}
