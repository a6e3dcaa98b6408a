namespace CardScan.Vision;

/// <summary>Sharpness of a photo across the card's two directions, cycles/px; null where the edges do not tell.</summary>
/// <param name="AcrossX">From edges that run along y.</param>
/// <param name="AcrossY">From edges that run along x.</param>
internal sealed record Sharpness(double? AcrossX, double? AcrossY)
{
    /// <summary>A marker's border is one module of eight wide; what is looked at ends inside it.</summary>
    private const double ReachModules = 0.75;

    private const int RowsPerEdge = 64;

    /// <summary>An edge fainter than this says nothing of sharpness, linear light.</summary>
    private const double LeastContrast = 0.02;

    /// <summary>
    /// Judges the outer edges of all markers, those of one direction together: each crosses the pixels in its own way, so
    /// together they see all of the edge.
    /// </summary>
    public static Sharpness Of(Picture picture, IReadOnlyList<RefinedMarker> markers)
    {
        EdgeSpread acrossX = new(), acrossY = new();
        foreach (RefinedMarker marker in markers)
        {
            for (int side = 0; side < 4; side++)
            {
                // Sides run top, right, bottom, left of the card.
                AddEdge(side % 2 == 0 ? acrossY : acrossX, picture, marker.Corners[side], marker.Corners[(side + 1) % 4],
                    marker.Corners[(side + 2) % 4]);
            }
        }

        return new(acrossX.Mtf50(), acrossY.Mtf50());
    }

    private static void AddEdge(EdgeSpread spread, Picture picture, PlanePoint from, PlanePoint to, PlanePoint beyond)
    {
        double length = from.DistanceTo(to), depth = to.DistanceTo(beyond);
        PlanePoint along = (to - from) * (1 / length), inward = new(-along.Y, along.X);
        double reach = Math.Min(EdgeSpread.ReachPx, ReachModules * depth / 8);
        double outside = Level(picture, from, to, inward * -reach), inside = Level(picture, from, to, inward * reach);
        if (Math.Abs(outside - inside) < LeastContrast) return;

        // Whole pixels, nothing interpolated: rows of the picture across a steep edge, columns across a flat one.
        bool isSteep = Math.Abs(along.Y) > Math.Abs(along.X);
        double start = isSteep ? Math.Min(from.Y, to.Y) : Math.Min(from.X, to.X);
        double end = isSteep ? Math.Max(from.Y, to.Y) : Math.Max(from.X, to.X);
        double margin = 0.08 * (end - start);
        int step = Math.Max(1, (int)((end - start) / RowsPerEdge)),
            halfWidth = (int)(reach / Math.Max(0.7, isSteep ? Math.Abs(along.Y) : Math.Abs(along.X))) + 1;
        for (int at = (int)(start + margin); at < end - margin; at += step)
        {
            double share = isSteep ? (at - from.Y) / along.Y : (at - from.X) / along.X;
            PlanePoint foot = from + along * share;
            int middle = (int)Math.Round(isSteep ? foot.X : foot.Y);
            for (int across = middle - halfWidth; across <= middle + halfWidth; across++)
            {
                (int x, int y) = isSteep ? (across, at) : (at, across);
                double distance = (x - from.X) * inward.X + (y - from.Y) * inward.Y;
                if (Math.Abs(distance) > reach || !picture.Contains(x, y)) continue;
                spread.Add(-distance, (picture.At(x, y, out _).Luminance - inside) / (outside - inside));
            }
        }
    }

    /// <summary>Mean level along a line beside the edge.</summary>
    private static double Level(Picture picture, PlanePoint from, PlanePoint to, PlanePoint aside)
    {
        const int points = 24;
        double sum = 0;
        for (int i = 0; i < points; i++)
        {
            PlanePoint at = from + (to - from) * (0.1 + 0.8 * i / (points - 1)) + aside;
            sum += picture.LuminanceAt(at.X, at.Y) / points;
        }

        return sum;
    }
}
