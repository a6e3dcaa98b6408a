using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// How far a filled cell lies from its planned place, by the middles between its opposite edges: what widens it evenly has
/// no say.
/// </summary>
internal static class CellPlace
{
    /// <summary>Edges are looked for this far from their plan, mm, if there is room.</summary>
    private const double ReachMm = 1.5;

    /// <summary>A step of luminance smaller than this share of the lighter side is no edge.</summary>
    private const double LeastContrast = 0.2;

    /// <summary>Half of the step is crossed within this stretch, mm, or the edge is not clear.</summary>
    private const double MostUnclearMm = 0.4;

    private const int Lines = 16;

    private const int Steps = 30;

    /// <summary>Samples at each end of a profile that tell its levels.</summary>
    private const int LevelSamples = 6;

    /// <summary>How far right of its planned place a cell lies, mm; null where its left and right edges are not both clear.</summary>
    public static double? ShiftX(CardSurface surface, Cell cell, double gapMm) =>
        Shift(surface, cell, gapMm, CellSide.Left, CellSide.Right);

    /// <summary>How far below it, mm; null where its upper and lower edges are not both clear.</summary>
    public static double? ShiftY(CardSurface surface, Cell cell, double gapMm) =>
        Shift(surface, cell, gapMm, CellSide.Top, CellSide.Bottom);

    private static double? Shift(CardSurface surface, Cell cell, double gapMm, CellSide first, CellSide second) =>
        Outward(surface, cell, first, gapMm) is { } before && Outward(surface, cell, second, gapMm) is { } behind
            ? (behind - before) / 2
            : null;

    /// <summary>How far outside its plan an edge stands, mm; null where it is not clear.</summary>
    public static double? Outward(CardSurface surface, Cell cell, CellSide side, double gapMm)
    {
        double reach = Math.Min(Math.Min(ReachMm, gapMm / 2), 0.3 * Math.Min(cell.WidthMm, cell.HeightMm));
        (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
        double[] profile = new double[Steps + 1];
        for (int step = 0; step <= Steps; step++)
        {
            for (int line = 0; line < Lines; line++)
            {
                PlanePoint foot = start + along * (length * (0.15 + 0.7 * (line + 0.5) / Lines));
                if (surface.LuminanceAt(foot + outward * At(step)) is not { } luminance) return null;
                profile[step] += luminance / Lines;
            }
        }

        double inner = profile[..LevelSamples].Average(), outer = profile[^LevelSamples..].Average();
        if (Math.Abs(outer - inner) < LeastContrast * Math.Max(inner, outer)) return null;
        double[] share = [.. profile.Select(value => (value - inner) / (outer - inner) - 0.5)];
        double[] crossings = [.. Enumerable.Range(0, Steps).Where(step => share[step] < 0 != share[step + 1] < 0)
            .Select(step => At(step + share[step] / (share[step] - share[step + 1])))];
        return crossings.Length > 0 && crossings[^1] - crossings[0] <= MostUnclearMm ? crossings.Average() : null;

        double At(double step) => reach * (2 * step / Steps - 1);
    }
}
