using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The grid's place made exact from the edges of its marks.</summary>
/// <param name="Place">Where it lies.</param>
/// <param name="RmsMm">RMS distance of the edges that were used from the fitted grid, mm.</param>
/// <param name="Edges">Number of edges that were used.</param>
internal sealed record GridEdges(GridPlace Place, double RmsMm, int Edges)
{
    /// <summary>Where an edge is looked for, first and at the end, mm to both sides, less where the gap is narrow.</summary>
    private const double FirstReachMm = 1.6, LastReachMm = 1;

    private const double GapShare = 0.4;

    private const int Rounds = 6;

    private const int Stations = 24, Samples = 41;

    /// <summary>An edge that shows less than this share of its cell's contrast has something else beside it.</summary>
    private const double LeastStepShare = 0.4;

    private const int FewestEdges = 8;

    /// <summary>
    /// Prior standard deviations: of the scale, and of how far all marks' edges stand outside the plan, mm; they decide
    /// only where the edges do not.
    /// </summary>
    private const double UsualStretch = 0.03, UsualBleedMm = 0.2;

    /// <summary>Placement of one edge, mm; what the priors are weighed against.</summary>
    private const double UsualEdgeMm = 0.05;

    private static readonly CellSide[] Sides = Enum.GetValues<CellSide>();

    /// <summary>Fits shift, turn, scale and a common bleed of the marks to the edges.</summary>
    /// <param name="picture">The photo.</param>
    /// <param name="sheet">Where the sheet lies in it.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="start">Place to about a millimetre.</param>
    /// <param name="isMark">By cell, whether it stands out.</param>
    /// <returns>The fit; null where too few edges can be followed.</returns>
    public static GridEdges? Fit(Picture picture, CardPose sheet, Plan plan, GridPlace start, bool[] isMark)
    {
        GridEdges fit = new(start, double.NaN, 0);
        for (int round = 0; round < Rounds; round++)
        {
            Edge[] edges = [.. Found(new(picture, fit.Place.On(sheet, default)), plan, isMark, round < 3 ? FirstReachMm : LastReachMm)];
            if (edges.Length < FewestEdges) return null;
            fit = Improved(fit.Place, edges);
        }

        return fit.Edges >= FewestEdges ? fit : null;
    }

    private static GridEdges Improved(GridPlace place, Edge[] edges)
    {
        double[][] rows = [.. edges.Select(edge => Row(edge, place.Centre)), [0, 0, 0, UsualEdgeMm / UsualStretch, 0],
            [0, 0, 0, 0, UsualEdgeMm / UsualBleedMm]];
        double[] targets = [.. edges.Select(edge => edge.OutwardMm), (1 - place.Scale) * UsualEdgeMm / UsualStretch, 0];
        double[] weights = [.. Enumerable.Repeat(1.0, rows.Length)];
        double[] solution = [];
        double[] misses = [];
        for (int round = 0; round < 8; round++)
        {
            solution = LeastSquares.SolveWeighted(rows, targets, weights);
            misses = [.. edges.Select((edge, i) => edge.OutwardMm - rows[i].Zip(solution, (a, b) => a * b).Sum())];
            double reach = Robust.UsualReach * Math.Max(Robust.Deviation(misses), 0.01);
            for (int i = 0; i < edges.Length; i++) weights[i] = Robust.Biweight(misses[i], reach);
        }

        int used = weights.Take(edges.Length).Count(weight => weight > 0);
        double rms = Math.Sqrt(misses.Where((_, i) => weights[i] > 0).Average(miss => miss * miss));
        GridPlace moved = place.Shifted(new(solution[0], solution[1])) with
        {
            TurnRad = place.TurnRad + solution[2],
            Scale = place.Scale * (1 + solution[3]),
        };
        return new(moved, rms, used);
    }

    /// <summary>What shift (2), turn, stretch and bleed move an edge outward by.</summary>
    private static double[] Row(Edge edge, PlanePoint centre)
    {
        (PlanePoint from, PlanePoint n) = (edge.Middle - centre, edge.Outward);
        return [n.X, n.Y, n.Y * from.X - n.X * from.Y, n.X * from.X + n.Y * from.Y, 1];
    }

    private static IEnumerable<Edge> Found(CardSurface surface, Plan plan, bool[] isMark, double mostReachMm)
    {
        for (int i = 0; i < plan.Cells.Count; i++)
        {
            if (!isMark[i]) continue;
            Cell cell = plan.Cells[i];
            double reach = Math.Min(mostReachMm, GapShare * Math.Min(Gap.Around(cell, plan), Math.Min(cell.WidthMm, cell.HeightMm)));
            EdgeProfile[] profiles = [.. Sides.Select(side => EdgeProfile.Of(surface, cell, side, reach)).OfType<EdgeProfile>()];
            if (profiles.Length == 0) continue;
            double step = Robust.Median(profiles.Select(profile => profile.Step));
            foreach (EdgeProfile profile in profiles.Where(profile => profile.Step / step > LeastStepShare)) yield return profile.Edge;
        }
    }

    /// <summary>An edge of a mark.</summary>
    /// <param name="Middle">Middle of its planned side, mm.</param>
    /// <param name="Outward">Away from the cell, a unit.</param>
    /// <param name="OutwardMm">How far the mark's edge lies outside the planned one.</param>
    private sealed record Edge(PlanePoint Middle, PlanePoint Outward, double OutwardMm);

    /// <summary>Light across one side.</summary>
    /// <param name="Edge">
    /// Its edge: where the area under the profile is shared between inside and outside, which symmetric blur does not move.
    /// </param>
    /// <param name="Step">Linear luminance inside less outside.</param>
    private sealed record EdgeProfile(Edge Edge, double Step)
    {
        private const int LevelSamples = Samples / 6;

        public static EdgeProfile? Of(CardSurface surface, Cell cell, CellSide side, double reach)
        {
            (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
            double[] light = new double[Samples];
            for (int s = 0; s < Samples; s++)
            {
                PlanePoint foot = start + outward * (reach * (2 * (s + 0.5) / Samples - 1));
                for (int i = 0; i < Stations; i++)
                {
                    if (surface.LuminanceAt(foot + along * (length * (0.15 + 0.7 * (i + 0.5) / Stations))) is not { } luminance)
                        return null;
                    light[s] += luminance / Stations;
                }
            }

            double inside = light[..LevelSamples].Average(), outside = light[^LevelSamples..].Average();
            double share = light.Average(value => (value - outside) / (inside - outside));
            return double.IsFinite(share)
                ? new(new(start + along * (length / 2), outward, reach * (2 * share - 1)), inside - outside)
                : null;
        }
    }
}
