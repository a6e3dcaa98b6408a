using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// The tabs of a side: stretches that were left uncut on purpose, and so say nothing of the cut. See docs/method, "Sides".
/// </summary>
internal static class SideTabs
{
    /// <summary>The head's start and stop move a tab's ends by about this much, and the beam does not end in a point, mm.</summary>
    private const double EndMm = 0.15;

    /// <summary>This much of a tab's middle, and light over all of it means that nothing holds there.</summary>
    private const double BurnedShare = 0.9;

    /// <summary>Whether a point of a side belongs to a tab or to its uncertain ends.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="side">Its side.</param>
    /// <param name="alongMm">Place along the side from its left or upper end, mm.</param>
    public static bool Holds(Cell cell, CellSide side, double alongMm) =>
        Of(cell, side).Any(tab => Math.Abs(alongMm - tab.AtMm) < tab.LengthMm / 2 + EndMm);

    /// <summary>The view with the points of tabs marked as such.</summary>
    public static SideView Marked(SideView view, Cell cell, CellSide side)
    {
        if (!Of(cell, side).Any()) return view;
        double stepMm = view.LengthMm / view.Stations.Length;
        return view with
        {
            Stations = [.. view.Stations.Select((station, i) => Holds(cell, side, (i + 0.5) * stepMm) ? Station.Tab : station)],
        };
    }

    /// <summary>True where light comes through all of a tab: it burned away, and holds the piece no longer.</summary>
    /// <param name="view">The side, its tabs not marked.</param>
    /// <param name="cell">The cell.</param>
    /// <param name="side">Its side.</param>
    public static bool IsAnyBurnedAway(SideView view, Cell cell, CellSide side)
    {
        double stepMm = view.LengthMm / view.Stations.Length, endMm = (view.KerfMm ?? 0) / 2;
        return Of(cell, side).Any(tab =>
        {
            double half = Math.Max(tab.LengthMm / 2 - endMm, tab.LengthMm / 8);
            Station[] middle = [.. view.Stations.Where((_, i) => Math.Abs((i + 0.5) * stepMm - tab.AtMm) < half)];
            return middle.Length > 0 && !middle.Contains(Station.Dark)
                && middle.Count(station => station == Station.Lit) >= BurnedShare * middle.Length;
        });
    }

    /// <summary>What to do where tabs burned away; null where none did.</summary>
    public static Warning? Describe(IReadOnlyList<CellReading> cells)
    {
        int count = cells.Count(cell => cell.Flags.Contains(CellFlag.TabBurned));
        return count == 0 ? null : new(Codes.TabsBurned, ("burned", count), ("all", cells.Count));
    }

    private static IEnumerable<Tab> Of(Cell cell, CellSide side) => (cell.Tabs ?? []).Where(tab => tab.Side == side);
}
