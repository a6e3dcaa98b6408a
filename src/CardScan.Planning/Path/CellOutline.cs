using CardScan.Model;

namespace CardScan.Planning;

/// <summary>The path around a cut cell, with its tabs.</summary>
internal static class CellOutline
{
    /// <summary>
    /// Points in the card frame, from the top left corner clockwise back to it; the flag tells whether the beam burns on the
    /// way to the point.
    /// </summary>
    internal static IReadOnlyList<(double X, double Y, bool IsOn)> Of(Cell cell)
    {
        double right = cell.XMm + cell.WidthMm, bottom = cell.YMm + cell.HeightMm;
        return
        [
            (cell.XMm, cell.YMm, false),
            .. Side(cell, CellSide.Top, (cell.XMm, cell.YMm), (right, cell.YMm)),
            .. Side(cell, CellSide.Right, (right, cell.YMm), (right, bottom)),
            .. Side(cell, CellSide.Bottom, (right, bottom), (cell.XMm, bottom)),
            .. Side(cell, CellSide.Left, (cell.XMm, bottom), (cell.XMm, cell.YMm)),
        ];
    }

    /// <summary>The points of one side without its first; a tab counts from the left or upper end, whichever way the side is run.</summary>
    private static IEnumerable<(double X, double Y, bool IsOn)> Side(
        Cell cell, CellSide side, (double X, double Y) from, (double X, double Y) to)
    {
        double length = Math.Abs(to.X - from.X) + Math.Abs(to.Y - from.Y);
        bool isBackward = side is CellSide.Bottom or CellSide.Left;
        IEnumerable<(double Middle, double HalfMm)> tabs = (cell.Tabs ?? []).Where(tab => tab.Side == side)
            .Select(tab => (Middle: isBackward ? length - tab.AtMm : tab.AtMm, tab.LengthMm / 2))
            .OrderBy(tab => tab.Middle);
        foreach ((double middle, double half) in tabs)
        {
            yield return (At(middle - half).X, At(middle - half).Y, true);
            yield return (At(middle + half).X, At(middle + half).Y, false);
        }

        yield return (to.X, to.Y, true);

        (double X, double Y) At(double along) => (from.X + (to.X - from.X) * along / length, from.Y + (to.Y - from.Y) * along / length);
    }
}
