using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Everything drawn over the photo of a card, in the card's frame (mm): outlines, sides, labels, brackets.</summary>
/// <param name="Marks">The marks, lowest first.</param>
/// <param name="Labels">The labels among them, for the key and the scale.</param>
internal sealed record CardMarks(ValueList<Mark> Marks, CellLabels Labels)
{
    public static CardMarks Of(Reading reading)
    {
        GridCells grid = new(reading);
        CardSpacing spacing = CardSpacing.Of(reading.Plan);
        CellLabels labels = CellLabels.For(grid, spacing);
        List<Mark> marks = [];
        for (int i = 0; i < reading.Plan.Cells.Count; i++)
        {
            Cell cell = reading.Plan.Cells[i];
            CellReading? found = grid.At(cell.Row, cell.Column);
            marks.AddRange(Edge(cell, found, spacing));
            marks.AddRange(Label(cell, labels, i, spacing));
        }

        foreach (Cell cell in reading.Plan.Cells)
        {
            if (grid.Badge(cell.Row, cell.Column) is { } badge) marks.AddRange(Recommended(cell, badge, spacing));
        }

        return new(marks.ToValueList(), labels);
    }

    private static IEnumerable<Mark> Edge(Cell cell, CellReading? found, CardSpacing spacing)
    {
        if (found?.Sides is { } sides) return SidesOf(cell, sides, spacing);
        double? dash = found is null || CellWords.IsLeftOut(found) ? 4 * spacing.LineMm : null;
        return [new StrokeMark(Around(cell, spacing.OutlineMm), spacing.LineMm, Ink.Outline, IsClosed: true, dash)];
    }

    private static IEnumerable<Mark> SidesOf(Cell cell, Sides sides, CardSpacing spacing)
    {
        // Each mark lies outside its side, and as long as the side itself, so that the cut stays in sight.
        double off = spacing.SideMm;
        (double left, double top, double right, double bottom) = (cell.XMm, cell.YMm, cell.XMm + cell.WidthMm, cell.YMm + cell.HeightMm);
        return
        [
            .. Side(sides.Top, new(left, top - off), new(right, top - off)),
            .. Side(sides.Right, new(right + off, top), new(right + off, bottom)),
            .. Side(sides.Bottom, new(left, bottom + off), new(right, bottom + off)),
            .. Side(sides.Left, new(left - off, top), new(left - off, bottom)),
        ];

        IEnumerable<Mark> Side(SideReading side, Point from, Point to) => SideMarks.Of(CellWords.Look(side.State), from, to, spacing.SideUnitMm);
    }

    private static IEnumerable<Mark> Label(Cell cell, CellLabels labels, int index, CardSpacing spacing)
    {
        ValueList<string> lines = labels.Lines[index];
        double width = lines.Max(Typeface.WidthOf) * labels.SizeMm;
        double height = lines.Count * CellLabels.LineHeight * labels.SizeMm;
        double middle = cell.XMm + cell.WidthMm / 2;
        double below = cell.YMm + cell.HeightMm;
        // Centred in the strip below, but no farther from its own cell than needed, so that nobody takes it for the next one's.
        double clear = Math.Max(spacing.OutlineMm, Math.Min(spacing.BracketMm + spacing.BracketLineMm, spacing.GapYMm - height - 2 * spacing.OutlineMm));
        double top = labels.IsOverCell ? below - height : below + clear;

        yield return new PlateMark(middle - width / 2 - 0.25 * labels.SizeMm, top, width + 0.5 * labels.SizeMm, height);
        for (int i = 0; i < lines.Count; i++)
        {
            double baseline = top + (i + 0.84) * CellLabels.LineHeight * labels.SizeMm - 0.04 * labels.SizeMm;
            yield return new TextMark(lines[i], new(middle, baseline), labels.SizeMm, Typeface.WidthOf(lines[i]) * labels.SizeMm);
        }
    }

    private static IEnumerable<Mark> Recommended(Cell cell, string badge, CardSpacing spacing)
    {
        ValueList<Point> corners = Around(cell, spacing.BracketMm);
        double arm = 0.3 * Math.Min(cell.WidthMm, cell.HeightMm);
        for (int i = 0; i < 4; i++)
        {
            (Point before, Point corner, Point after) = (corners[(i + 3) % 4], corners[i], corners[(i + 1) % 4]);
            yield return new StrokeMark([Toward(corner, before, arm), corner, Toward(corner, after, arm)], spacing.BracketLineMm, Ink.Recommended);
        }

        double radius = Math.Clamp(0.75 * spacing.BracketMm, 0.35, 1.4);
        yield return new BadgeMark(badge, corners[0], radius);
    }

    private static Point Toward(Point from, Point to, double distance) => from + (to - from) * (distance / (to - from).Length);

    /// <summary>The corners of a cell's rectangle grown by a distance: top left, top right, bottom right, bottom left.</summary>
    private static ValueList<Point> Around(Cell cell, double offMm) =>
    [
        new(cell.XMm - offMm, cell.YMm - offMm),
        new(cell.XMm + cell.WidthMm + offMm, cell.YMm - offMm),
        new(cell.XMm + cell.WidthMm + offMm, cell.YMm + cell.HeightMm + offMm),
        new(cell.XMm - offMm, cell.YMm + cell.HeightMm + offMm),
    ];
}
