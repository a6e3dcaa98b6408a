using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The grid of the card as a map: colour and number for each cell, sides of cut cells, the boundary, the recommended cells.</summary>
internal static class HeatMap
{
    private const double LegendPx = 58;
    private const int LegendSteps = 48;

    /// <summary>Draws the map.</summary>
    /// <param name="grid">The cells.</param>
    /// <param name="fits">True where it may shrink to the window's width.</param>
    public static XElement Draw(GridCells grid, bool fits)
    {
        Plan plan = grid.Reading.Plan;
        HeatQuantity quantity = HeatQuantity.Of(grid.Reading);
        GridFrame frame = new(plan, grid.Reading.Cells.Any(cell => cell.Sides is not null));
        double width = Math.Max(frame.Left + frame.Width + 12, 330);
        Box box = new(0, 0, width, frame.Top + frame.Height + LegendPx);

        return Svg.Drawing(
            $"Heat map: {quantity.Title}",
            $"{plan.Rows.Values.Count} rows by {SettingWords.Name(plan.Rows.Setting)}, {plan.Columns.Values.Count} columns by {SettingWords.Name(plan.Columns.Setting)}; the same numbers stand in the table of all cells.",
            box, box.Width,
            Svg.Class(fits ? "chart fits" : "chart"),
            Axes(frame),
            plan.Cells.Select(cell => Ground(grid, cell, quantity, frame)),
            Clipped(BoundaryLine.Draw(grid.Reading, frame), frame),
            plan.Cells.Select(cell => Over(grid, cell, quantity, frame)),
            grid.Reading.Cells.Any(cell => quantity.Value(cell) is not null) ? Legend(quantity, frame) : null);
    }

    /// <summary>What lies over the grid and nowhere else: an inner drawing clips by itself.</summary>
    private static XElement Clipped(IEnumerable<XElement> content, GridFrame frame) => new(
        "svg",
        Svg.At("x", frame.Left), Svg.At("y", frame.Top), Svg.At("width", frame.Width), Svg.At("height", frame.Height),
        new XAttribute("viewBox", $"{Svg.Number(frame.Left)} {Svg.Number(frame.Top)} {Svg.Number(frame.Width)} {Svg.Number(frame.Height)}"),
        content);

    private static IEnumerable<XElement> Axes(GridFrame frame)
    {
        (Axis columns, Axis rows) = (frame.Plan.Columns, frame.Plan.Rows);
        yield return Svg.Text(SettingWords.Heading(columns.Setting), frame.Left + frame.Width / 2, 15, 13, "middle", Svg.Class("axis-title"));
        for (int i = 0; i < columns.Values.Count; i++)
            yield return Svg.Text(Numbers.Chosen(columns.Values[i]), frame.Between(0, i).X, frame.Top - 9, 13, "middle", Svg.Class("tick"));

        double middle = frame.Top + frame.Height / 2;
        yield return Svg.Text(SettingWords.Heading(rows.Setting), 14, middle, 13, "middle", Svg.Class("axis-title"), new XAttribute("transform", $"rotate(-90 14 {Svg.Number(middle)})"));
        for (int i = 0; i < rows.Values.Count; i++)
            yield return Svg.Text(Numbers.Chosen(rows.Values[i]), frame.Left - 8, frame.Between(i, 0).Y + 4.5, 13, "end", Svg.Class("tick"));
    }

    private static XElement Ground(GridCells grid, Cell cell, HeatQuantity quantity, GridFrame frame)
    {
        CellReading? found = grid.At(cell.Row, cell.Column);
        Box box = frame.At(cell.Row, cell.Column);
        double? value = found is null ? null : quantity.Value(found);
        return Svg.Rect(
            box.X + 1, box.Y + 1, box.Width - 2, box.Height - 2, Svg.At("rx", 3),
            value is double known ? Svg.Fill(quantity.Colour(known)) : Svg.Class("unmeasured"),
            Svg.Tip(Tip(grid, cell, found)));
    }

    private static XElement Over(GridCells grid, Cell cell, HeatQuantity quantity, GridFrame frame)
    {
        CellReading? found = grid.At(cell.Row, cell.Column);
        Box box = frame.At(cell.Row, cell.Column);
        double? value = found is null ? null : quantity.Value(found);
        return Svg.Group(
            Svg.Class("over"),
            found?.Sides is { } sides ? MarkSvg.Draw(SidesOf(sides, cell, box)) : null,
            Number(found is null ? null : quantity.Print(found), found is null ? null : quantity.Note(found), value is double known ? quantity.Colour(known) : null, box, frame.FontPx),
            found is not null && CellWords.IsLeftOut(found) ? Strike(box, value is double struck ? quantity.Colour(struck) : null) : null,
            grid.Badge(cell.Row, cell.Column) is { } badge ? Recommended(badge, box) : null);
    }

    /// <summary>The value over a halo of its own cell's colour, so that a line that passes behind takes nothing from its contrast.</summary>
    private static XElement Number(string? text, string? note, Rgb? ground, Box box, double fontPx)
    {
        (double x, double y) = (box.X + box.Width / 2, box.Y + box.Height / 2);
        if (text is not null && ground is { } colour)
        {
            return note is null
                ? Line(text, y + 0.36 * fontPx, fontPx)
                : Svg.Group(Line(text, y + 0.08 * fontPx, 0.9 * fontPx), Line(note, y + 0.9 * fontPx, 0.72 * fontPx));

            XElement Line(string words, double baseline, double size) => Svg.Text(
                words, x, baseline, size, "middle", Svg.Class("cell-value"),
                Svg.Fill(colour.ReadableInk), new XAttribute("stroke", colour.Hex), new XAttribute("paint-order", "stroke"));
        }

        return box.Width >= 60
            ? Svg.Group(
                Svg.Class("unmeasured-words"),
                Svg.Text("not", x, y - 2, 11, "middle"),
                Svg.Text("measured", x, y + 10, 11, "middle"))
            : Svg.Text("–", x, y + 4, 12, "middle", Svg.Class("unmeasured-words"));
    }

    private static XElement Strike(Box box, Rgb? ground)
    {
        Rgb ink = ground?.ReadableInk ?? Rgb.FromHex("#777777");
        return new("path",
            new XAttribute("d", $"M{Svg.Number(box.X + 5)} {Svg.Number(box.Y + 5)} l8 8 m0 -8 l-8 8"),
            new XAttribute("stroke", ink.Hex), Svg.At("stroke-width", 1.8), new XAttribute("fill", "none"));
    }

    private static IEnumerable<Mark> SidesOf(Sides sides, Cell cell, Box box)
    {
        const double In = 8, BarPx = 3.6;
        (double left, double top, double right, double bottom) = (box.X + In, box.Y + In, box.X + box.Width - In, box.Y + box.Height - In);
        return
        [
            .. SideMarks.Of(sides.Top, new(left, top), new(right, top), cell.WidthMm, BarPx),
            .. SideMarks.Of(sides.Right, new(right, top), new(right, bottom), cell.HeightMm, BarPx),
            .. SideMarks.Of(sides.Bottom, new(left, bottom), new(right, bottom), cell.WidthMm, BarPx),
            .. SideMarks.Of(sides.Left, new(left, top), new(left, bottom), cell.HeightMm, BarPx),
        ];
    }

    private static IEnumerable<XElement> Recommended(string badge, Box box)
    {
        yield return Svg.Rect(box.X + 1.5, box.Y + 1.5, box.Width - 3, box.Height - 3, Svg.At("rx", 3), Svg.Class("recommended-casing"));
        yield return Svg.Rect(box.X + 1.5, box.Y + 1.5, box.Width - 3, box.Height - 3, Svg.At("rx", 3), Svg.Class("recommended"));
        double radius = Math.Min(9, 0.22 * box.Height);
        foreach (XElement element in MarkSvg.Draw([new BadgeMark(badge, new(box.X + box.Width - 0.6 * radius, box.Y + 0.6 * radius), radius)])) yield return element;
    }

    private static IEnumerable<XElement> Legend(HeatQuantity quantity, GridFrame frame)
    {
        const double BarPx = 240;
        double top = frame.Top + frame.Height + 18;
        for (int i = 0; i < LegendSteps; i++)
        {
            double value = quantity.Low + (quantity.High - quantity.Low) * (i + 0.5) / LegendSteps;
            // A hair wider than its share, so that no seam shows between two steps.
            yield return Svg.Rect(frame.Left + BarPx * i / LegendSteps, top, BarPx / LegendSteps + 0.6, 10, Svg.Fill(quantity.Colour(value)));
        }

        yield return Svg.Text(Print(quantity, quantity.Low), frame.Left, top + 24, 12, "start", Svg.Class("tick"));
        yield return Svg.Text(Print(quantity, quantity.High), frame.Left + BarPx, top + 24, 12, "end", Svg.Class("tick"));
        yield return Svg.Text(quantity.IsDarkHigh ? "darkness D" : "open share", frame.Left + BarPx / 2, top + 24, 12, "middle", Svg.Class("axis-title"));
    }

    private static string Print(HeatQuantity quantity, double value) => quantity.IsDarkHigh ? Numbers.Fixed(value, 2) : Numbers.Percent(value);

    private static string Tip(GridCells grid, Cell cell, CellReading? found)
    {
        Plan plan = grid.Reading.Plan;
        string burned = SettingWords.AxesOf(plan, found?.Settings ?? plan.SettingsOf(cell));
        string measured = found?.Darkness is { } darkness ? $"darkness {Numbers.WithError(darkness)}"
            : found?.Through is { } through ? CellWords.Through(through)
            : Numbers.NotMeasured;
        return $"{burned}: {measured}";
    }
}
