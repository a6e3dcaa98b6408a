using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Where the places of the grid lie on the heat map, px: same order as on the card.</summary>
internal sealed class GridFrame
{
    private const double DigitPx = 7.2;

    public GridFrame(Plan plan, bool showsSides)
    {
        Plan = plan;
        (CellWidth, CellHeight, FontPx) = plan.Columns.Values.Count switch
        {
            <= 9 => (64, 46, 14),
            <= 14 => (50, 38, 12.5),
            _ => (40, 30, 11),
        };
        if (showsSides) (CellWidth, CellHeight) = (CellWidth + 14, CellHeight + 18);
        double longest = plan.Rows.Values.Max(value => ShownSetting.Bare(plan.Rows.Setting, value).Length);
        Left = 34 + DigitPx * longest;
        Top = 46;
    }

    public Plan Plan { get; }

    public double CellWidth { get; }

    public double CellHeight { get; }

    public double FontPx { get; }

    public double Left { get; }

    public double Top { get; }

    public double Width => CellWidth * Plan.Columns.Values.Count;

    public double Height => CellHeight * Plan.Rows.Values.Count;

    /// <summary>The rectangle of a place.</summary>
    public Box At(int row, int column) => new(Left + column * CellWidth, Top + row * CellHeight, CellWidth, CellHeight);

    /// <summary>A point between the places: (0, 0) is the centre of the first.</summary>
    public Point Between(double row, double column) => new(Left + (column + 0.5) * CellWidth, Top + (row + 0.5) * CellHeight);
}
