using System.Globalization;
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
        CardSpacing spacing = CardSpacing.Of(reading);
        CellLabels labels = CellLabels.For(grid, spacing);
        ValueList<Cell> cells = reading.Plan.Cells;
        ValueList<Cell> recommended = cells.Where(cell => NumbersOf(cell).Count > 0).ToValueList();
        // Words lie over the marks of any neighbour.
        return new(
            [
                .. cells.SelectMany(cell => Edge(cell, grid.At(cell.Row, cell.Column), spacing)),
                .. recommended.SelectMany(cell => Brackets(cell, spacing)),
                .. cells.SelectMany((cell, i) => Label(cell, labels, i, spacing, NumbersOf(cell).Count > 0)),
                .. recommended.SelectMany(cell => Badges(cell, NumbersOf(cell), spacing)),
            ],
            labels);

        IReadOnlyList<int> NumbersOf(Cell cell) => grid.Numbers(cell.Row, cell.Column);
    }

    private static IEnumerable<Mark> Edge(Cell cell, CellReading? found, CardSpacing spacing)
    {
        if (found?.Sides is { } sides) return SidesOf(cell, sides, spacing);
        double? dash = found is null || ShownCell.IsLeftOut(found) ? 4 * spacing.LineMm : null;
        return [new StrokeMark(Around(cell, spacing.OutlineMm), spacing.LineMm, Ink.Outline, IsClosed: true, dash)];
    }

    private static IEnumerable<Mark> SidesOf(Cell cell, Sides sides, CardSpacing spacing)
    {
        // Each mark lies outside its side, and as long as the side itself, so that the cut stays in sight.
        double off = spacing.SideMm;
        (double left, double top, double right, double bottom) = (cell.XMm, cell.YMm, cell.XMm + cell.WidthMm, cell.YMm + cell.HeightMm);
        return
        [
            .. Side(sides.Top, new(left, top - off), new(right, top - off), cell.WidthMm),
            .. Side(sides.Right, new(right + off, top), new(right + off, bottom), cell.HeightMm),
            .. Side(sides.Bottom, new(left, bottom + off), new(right, bottom + off), cell.WidthMm),
            .. Side(sides.Left, new(left - off, top), new(left - off, bottom), cell.HeightMm),
        ];

        IEnumerable<Mark> Side(SideReading side, Point from, Point to, double lengthMm) =>
            SideMarks.Of(side, from, to, lengthMm, spacing.SideUnitMm);
    }

    private static IEnumerable<Mark> Label(Cell cell, CellLabels labels, int index, CardSpacing spacing, bool isRecommended)
    {
        ValueList<string> lines = labels.Lines[index];
        double width = lines.Max(Typeface.WidthOf) * labels.SizeMm;
        double height = lines.Count * CellLabels.LineHeight * labels.SizeMm;
        double middle = cell.XMm + cell.WidthMm / 2;
        double below = cell.YMm + cell.HeightMm;
        // As near to its own cell as its marks allow, so that nobody takes it for the next one's.
        double room = spacing.GapYMm - height - spacing.ReachMm(isRecommended: false);
        double clear = Math.Max(spacing.OutlineMm, Math.Min(spacing.ReachMm(isRecommended) + spacing.LineMm, room));
        double top = labels.IsOverCell ? below - height : below + clear;

        yield return new PlateMark(middle - width / 2 - 0.2 * labels.SizeMm, top, width + 0.4 * labels.SizeMm, height);
        for (int i = 0; i < lines.Count; i++)
        {
            double baseline = top + (i + 0.84) * CellLabels.LineHeight * labels.SizeMm - 0.04 * labels.SizeMm;
            yield return new TextMark(lines[i], new(middle, baseline), labels.SizeMm, Typeface.WidthOf(lines[i]) * labels.SizeMm);
        }
    }

    private static IEnumerable<Mark> Brackets(Cell cell, CardSpacing spacing)
    {
        ValueList<Point> corners = Around(cell, spacing.BracketMm);
        double arm = 0.3 * Math.Min(cell.WidthMm, cell.HeightMm);
        for (int i = 0; i < 4; i++)
        {
            (Point before, Point corner, Point after) = (corners[(i + 3) % 4], corners[i], corners[(i + 1) % 4]);
            yield return new StrokeMark(
                [Toward(corner, before, arm), corner, Toward(corner, after, arm)], spacing.BracketLineMm, Ink.Recommended);
        }
    }

    /// <summary>The numbers stand left of the cell, where no label does, one below the other: no gap has room for two abreast.</summary>
    private static IEnumerable<Mark> Badges(Cell cell, IReadOnlyList<int> numbers, CardSpacing spacing)
    {
        double reach = spacing.BracketMm + spacing.BracketLineMm;
        double room = 0.45 * (spacing.GapXMm - reach - spacing.ReachMm(isRecommended: false));
        double radius = Math.Clamp(Math.Min(room, cell.HeightMm / (2.4 * numbers.Count)), 0.45, 1.5);
        double middle = cell.YMm + cell.HeightMm / 2;
        return numbers.Select((number, i) => new BadgeMark(
            number.ToString(CultureInfo.InvariantCulture),
            new(cell.XMm - reach - 1.1 * radius, middle + 2.4 * radius * (i - (numbers.Count - 1) / 2.0)), radius));
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
