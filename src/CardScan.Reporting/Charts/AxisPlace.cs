namespace CardScan.Reporting;

/// <summary>Where a value lies along an axis whose columns or rows are drawn evenly spaced.</summary>
internal static class AxisPlace
{
    private const double FarAway = 20;

    /// <summary>The place of a value: 0 at the first value, 1 at the second; between two values in proportion.</summary>
    /// <param name="values">Values of the axis.</param>
    /// <param name="value">The value sought.</param>
    /// <returns>Below 0 or above n − 1 where the value lies beyond the ends; null where the axis has one value or no order.</returns>
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
        // Far beyond is as good as beyond: drawings clip it, and their numbers stay short.
        return Math.Clamp(place, -FarAway, values.Count + FarAway);
    }
}
