using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How far each cell, were the grid at a given place, would stand out of what is around it.</summary>
internal sealed class CellContrast(WindowMap map, Plan plan)
{
    /// <summary>What is around a cell is looked at this far outside its edge, mm, or a third of the gap away.</summary>
    private const double RingMm = 1;

    /// <summary>Share of the cell that is looked at.</summary>
    private const double MiddleShare = 0.8;

    private const int PointsPerSide = 12;

    /// <summary>A cell stands out for sure from here on, natural log …</summary>
    private const double LeastClear = 0.08;

    /// <summary>… and by this many times the scatter of its surroundings.</summary>
    private const double ClearScatters = 3;

    /// <summary>Distance from a cell's edge to what is around it, mm.</summary>
    public static double RingOf(Cell cell, Plan plan) => Math.Min(RingMm, Gap.Around(cell, plan) / 3);

    /// <summary>
    /// Log contrast of every cell against its surroundings, medians of points so that a label's strokes do not count; NaN
    /// where the cell is not seen.
    /// </summary>
    public double[] Of(GridPlace place) => [.. plan.Cells.Select(cell =>
    {
        double[] inside = Seen(Inside(cell)), around = Seen(Around(cell).SelectMany(side => side));
        bool isSeen = inside.Length > PointsPerSide * PointsPerSide / 2 && around.Length > 2 * PointsPerSide;
        return isSeen ? Robust.Median(inside) - Robust.Median(around) : double.NaN;

        double[] Seen(IEnumerable<PlanePoint> points) => [.. points.Select(point => At(place, point)).Where(double.IsFinite)];
    })];

    /// <summary>From this contrast on a cell is a mark: bare material differs from side to side of a cell, too.</summary>
    public double LeastMark(GridPlace place)
    {
        double scatter = Robust.Median(plan.Cells.Select(cell =>
        {
            double[] sides = [.. Around(cell).Select(side => Robust.Median(side.Select(point => At(place, point)))).Where(double.IsFinite)];
            return sides.Length < 3 ? double.NaN : Math.Sqrt(Robust.Variance(sides));
        }));
        return double.IsFinite(scatter) ? Math.Max(LeastClear, ClearScatters * scatter) : double.PositiveInfinity;
    }

    private double At(GridPlace place, PlanePoint planned)
    {
        (int row, int column) = map.Nearest(place.ToSheet(planned));
        return map.At(row, column);
    }

    private static IEnumerable<PlanePoint> Inside(Cell cell) =>
        from j in Enumerable.Range(0, PointsPerSide)
        from i in Enumerable.Range(0, PointsPerSide)
        select new PlanePoint(cell.XMm + cell.WidthMm * Share(i, MiddleShare), cell.YMm + cell.HeightMm * Share(j, MiddleShare));

    private IEnumerable<PlanePoint[]> Around(Cell cell)
    {
        double off = RingOf(cell, plan);
        return Enum.GetValues<CellSide>().Select(side =>
        {
            (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
            return Enumerable.Range(0, PointsPerSide).Select(i => start + along * (length * Share(i, 1)) + outward * off).ToArray();
        });
    }

    private static double Share(int i, double share) => 0.5 + share * ((i + 0.5) / PointsPerSide - 0.5);
}
