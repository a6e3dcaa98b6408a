using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What stands in a cell beyond its rectangle.</summary>
internal static class CellContent
{
    /// <summary>Height of a ladder's cell, as a share of its width: two squares side by side.</summary>
    internal const double LadderHeight = 0.5;

    /// <summary>Lines of a ladder's cell in each direction: enough for a mean, few enough to stay apart.</summary>
    private const int LadderLines = 3;

    /// <summary>Length of a ladder's line, and distance of neighbours, as shares of the cell's width.</summary>
    private const double LadderLength = 0.45, LadderPitch = 0.125;

    /// <summary>Height of a filled cell: the most whole lines that the side holds, so that the dose is the planned one.</summary>
    internal static double FilledHeightMm(double sideMm, double intervalMm) => Rounded(Math.Floor(sideMm / intervalMm + 1e-6) * intervalMm);

    /// <summary>The lines of a ladder's cell: three along x in its left half, three along y in its right half, all of one length.</summary>
    internal static ValueList<BurnedLine> Ladder(Cell cell)
    {
        double side = cell.WidthMm, half = LadderLength * side / 2, middle = cell.YMm + cell.HeightMm / 2, right = cell.XMm + side - half;
        IEnumerable<double> offsets = Enumerable.Range(0, LadderLines).Select(i => (i - (LadderLines - 1) / 2.0) * LadderPitch * side);
        return
        [
            .. offsets.Select(offset => Line(cell.XMm, middle + offset, cell.XMm + 2 * half, middle + offset)),
            .. offsets.Select(offset => Line(right + offset, middle - half, right + offset, middle + half)),
        ];
    }

    /// <summary>The same tabs on every side, evenly spread.</summary>
    internal static ValueList<Tab> Tabs(Cell cell, int perSide, double lengthMm) =>
        Enum.GetValues<CellSide>().SelectMany(side => Enumerable.Range(0, perSide).Select(i => new Tab
        {
            Side = side,
            AtMm = Rounded((side is CellSide.Top or CellSide.Bottom ? cell.WidthMm : cell.HeightMm) * (i + 0.5) / perSide),
            LengthMm = lengthMm,
        })).ToValueList();

    /// <summary>Whole micrometres: finer than any machine, short in the files.</summary>
    internal static double Rounded(double mm) => Math.Round(mm, 3);

    private static BurnedLine Line(double fromX, double fromY, double toX, double toY) =>
        new() { FromXMm = Rounded(fromX), FromYMm = Rounded(fromY), ToXMm = Rounded(toX), ToYMm = Rounded(toY) };
}
