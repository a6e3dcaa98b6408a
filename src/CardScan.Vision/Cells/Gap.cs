using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Room around a cell.</summary>
internal static class Gap
{
    /// <summary>
    /// Distance from the cell's edge to the nearest thing that is not bare material: a cell, a marker, or the card's rim;
    /// mm.
    /// </summary>
    public static double Around(Cell cell, Plan plan)
    {
        double rim = Math.Min(
            Math.Min(cell.XMm, cell.YMm),
            Math.Min(plan.Card.WidthMm - cell.XMm - cell.WidthMm, plan.Card.HeightMm - cell.YMm - cell.HeightMm));
        IEnumerable<double> cells = plan.Cells.Where(other => other != cell)
            .Select(other => Between(cell, other.XMm, other.YMm, other.WidthMm, other.HeightMm));
        IEnumerable<double> markers = plan.Fiducials.Markers
            .Select(marker => Between(cell, marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm));
        return cells.Concat(markers).Append(rim).Min();
    }

    /// <summary>Width of the narrowest bare strip between two cells, mm; infinite where there is one cell.</summary>
    public static double BetweenCells(Plan plan) => Math.Min(
        Narrowest(plan.Cells.Select(cell => (cell.XMm, cell.WidthMm))), Narrowest(plan.Cells.Select(cell => (cell.YMm, cell.HeightMm))));

    /// <summary>Columns, or rows, stand one beside the other: only where the next one begins counts.</summary>
    private static double Narrowest(IEnumerable<(double Start, double Length)> places)
    {
        (double Start, double Length)[] lines = [.. places.GroupBy(place => place.Start)
            .Select(line => (line.Key, line.Max(place => place.Length))).OrderBy(line => line.Key)];
        return lines.Zip(lines.Skip(1), (line, next) => next.Start - line.Start - line.Length)
            .Where(gapMm => gapMm > 0).DefaultIfEmpty(double.PositiveInfinity).Min();
    }

    private static double Between(Cell cell, double x, double y, double width, double height)
    {
        double across = Math.Max(x - cell.XMm - cell.WidthMm, cell.XMm - x - width);
        double down = Math.Max(y - cell.YMm - cell.HeightMm, cell.YMm - y - height);
        return Math.Max(across, down);
    }
}
