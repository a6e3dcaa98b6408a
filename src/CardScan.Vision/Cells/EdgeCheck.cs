using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// Whether the marks' edges are where the plan puts them: the markers alone cannot tell a plan from another of the same
/// size.
/// </summary>
internal static class EdgeCheck
{
    /// <summary>Marks fainter than this contrast have no edges to speak of.</summary>
    private const double LeastContrast = 0.25;

    /// <summary>
    /// Distance from the planned edge at which both of its sides are looked at, mm: the measured middle of a cell begins
    /// about there.
    /// </summary>
    private const double BesideMm = 1;

    /// <summary>Of the step from mark to bare material, at least this share must fall within that distance.</summary>
    private const double LeastShare = 0.5;

    private const int FewestSides = 4;

    /// <summary>More of the strips burned than stains explain: marks lie where the plan has none.</summary>
    private const double MostBurnedStrips = 0.06;

    /// <summary>Cells as faint as this, most of them, may be bare material between the marks.</summary>
    private const double BareContrast = 0.1;

    private const int SamplesAlongSide = 16;

    /// <summary>Light through more of the strips than this: kerfs run where the plan has none.</summary>
    private const double MostLitStrips = 0.004;

    /// <summary>Light on more of a cell's inside, or of a place between cells, than this is no speck.</summary>
    private const double LeastLit = 0.01;

    /// <summary>Side of a place between cells, mm; it holds no more than a stretch of one kerf.</summary>
    private const double PlaceMm = 2;

    /// <summary>A cell's inside begins this far from its path, mm.</summary>
    private const double InsideMm = 0.9;

    /// <summary>A refusal where a cut card's light stands beside the planned paths; null otherwise.</summary>
    public static Refusal? CheckBackLit(CardSurface surface, Plan plan, BackLitView view)
    {
        if (LightField.Fit(surface, plan, isInverted: true, []) is not { } face) return null;
        // One piece may hang askew and let light into its cell; most of the lit ones do not.
        int lit = view.Sides.Where((sides, i) => !view.Dropped[i] && sides.Any(side => side.Stations.Contains(Station.Lit))).Count();
        int litInside = plan.Cells.Where((cell, i) => !view.Dropped[i]
            && IsLitInside(surface, cell, view.Light.ThresholdOver(face.MeanLuminance))).Count();
        return ShareOfLitPlaces(surface, face, view.Light) > MostLitStrips || (litInside >= 2 && litInside > lit / 2)
            ? Misplaced("cuts")
            : null;
    }

    /// <summary>
    /// Share of the places between cells that a kerf crosses: it stands out from the place around it as the lamp does. A
    /// lamp mirrored in the face brightens the whole place, and is none.
    /// </summary>
    private static double ShareOfLitPlaces(CardSurface surface, LightField face, LampLight light)
    {
        return face.BetweenCells.Count == 0 ? 0 : face.BetweenCells.Count(IsLit) / (double)face.BetweenCells.Count;

        bool IsLit(PlanePoint centre)
        {
            (double x, double y) = (centre.X - PlaceMm / 2, centre.Y - PlaceMm / 2);
            double around = surface.Mean(x, y, PlaceMm, PlaceMm, samples: 6).Rgb.Luminance;
            return surface.ShareBrighter(x, y, PlaceMm, PlaceMm, points: 16, light.ThresholdOver(around)) > LeastLit;
        }
    }

    /// <summary>A refusal where most marked cells have no edge at their planned sides; null otherwise.</summary>
    public static Refusal? Check(CardSurface surface, Plan plan, ValueList<CellReading> cells, LightField light)
    {
        (Cell Cell, double Contrast)[] marked = [.. plan.Cells.Zip(cells)
            .Where(pair => pair.Second.Contrast is { } contrast && Math.Abs(contrast.Value) >= LeastContrast)
            .Select(pair => (pair.First, pair.Second.Contrast!.Value))];
        // A card shifted along one axis keeps its edges along the other, so the axes are judged apart.
        return IsMisplaced(CellSide.Left, CellSide.Right) || IsMisplaced(CellSide.Top, CellSide.Bottom) || AreBetweenMarks()
            ? Misplaced("marks")
            : null;

        bool AreBetweenMarks() =>
            light.MarkedShare > MostBurnedStrips
            && Robust.Median(cells.Select(cell => cell.Contrast is { } contrast ? Math.Abs(contrast.Value) : double.NaN)) < BareContrast;

        bool IsMisplaced(CellSide first, CellSide second)
        {
            double[] shares = [.. marked
                .SelectMany(cell => new[] { first, second }.Select(side => StepShare(surface, cell.Cell, side, cell.Contrast)))
                .OfType<double>()];
            return shares.Length >= FewestSides && Robust.Median(shares) < LeastShare;
        }
    }

    /// <summary>
    /// A refusal where the lines of a focus ladder run on where the plan ends them, or lie where it has none; null
    /// otherwise.
    /// </summary>
    public static Refusal? CheckLines(MeasuredCell[] cells, LightField light)
    {
        double[] beyond = [.. cells.SelectMany(cell => cell.Lines?.Beyond ?? [])];
        bool areElsewhere = beyond.Length == 0
            ? light.MarkedShare > MostBurnedStrips
            : beyond.Length >= FewestSides && Robust.Median(beyond) > LeastShare;
        return areElsewhere ? Misplaced("lines") : null;
    }

    private static Refusal Misplaced(string marks) => Refusal.OfPhoto(Codes.CellsMisplaced, ("marks", marks));

    private static bool IsLitInside(CardSurface surface, Cell cell, double threshold)
    {
        double width = cell.WidthMm - 2 * InsideMm, height = cell.HeightMm - 2 * InsideMm;
        return width > 0 && height > 0
            && surface.ShareBrighter(cell.XMm + InsideMm, cell.YMm + InsideMm, width, height, points: 24, threshold) > LeastLit;
    }

    /// <summary>Share of the step between mark and bare material that lies within reach of one side; null at the photo's edge.</summary>
    private static double? StepShare(CardSurface surface, Cell cell, CellSide side, double contrast)
    {
        (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
        double inside = 0, outside = 0;
        for (int i = 0; i < SamplesAlongSide; i++)
        {
            PlanePoint foot = start + along * (length * (0.15 + 0.7 * (i + 0.5) / SamplesAlongSide));
            if (surface.LuminanceAt(foot - outward * BesideMm) is not { } within
                || surface.LuminanceAt(foot + outward * BesideMm) is not { } beyond)
                return null;
            inside += within;
            outside += beyond;
        }

        return outside == 0 ? null : (inside / outside - 1) / contrast;
    }
}
