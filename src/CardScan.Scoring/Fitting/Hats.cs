namespace CardScan.Scoring.Fitting;

/// <summary>A function that is linear between knots and level beyond the last ones, as a sum of hats, one a knot.</summary>
internal static class Hats
{
    /// <summary>How much of each hat there is at a place: at most two are not 0.</summary>
    /// <param name="knots">The knots, falling; as many count as there are hats.</param>
    /// <param name="at">The place.</param>
    /// <param name="scale">Height of a hat.</param>
    /// <param name="hats">Filled.</param>
    public static void Fill(ReadOnlySpan<double> knots, double at, double scale, Span<double> hats)
    {
        hats.Clear();
        int below = 0;
        while (below < hats.Length - 1 && at < knots[below]) below++;
        if (below == 0 || at <= knots[below])
        {
            hats[below] = scale;
            return;
        }

        double part = (at - knots[below]) / (knots[below - 1] - knots[below]);
        hats[below - 1] = scale * part;
        hats[below] = scale * (1 - part);
    }
}
