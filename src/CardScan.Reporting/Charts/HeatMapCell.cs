using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What stands on one cell of the heat map: its sides, its number, whether it was left out or is recommended.</summary>
internal static class HeatMapCell
{
    public static XElement Draw(GridCells grid, Cell cell, HeatQuantity quantity, Box box, double fontPx)
    {
        CellReading? found = grid.At(cell.Row, cell.Column);
        Rgb? ground = found is not null && quantity.Value(found) is double value ? quantity.Colour(value) : null;
        return Svg.Group(
            Svg.Class("over"),
            found?.Sides is { } sides ? MarkSvg.Draw(SidesOf(sides, cell, box)) : null,
            found is not null && ground is { } colour
                ? Number(quantity.Print(quantity.Value(found)!.Value), quantity.Note(found), colour, box, fontPx)
                : NotMeasured(box),
            found is not null && ShownCell.IsLeftOut(found) ? Cross(box, ground) : null,
            grid.Badge(cell.Row, cell.Column) is { } badge ? Recommended(badge, box) : null);
    }

    /// <summary>The value over a halo of its own cell's colour, so that a line behind it takes nothing from its contrast.</summary>
    private static XElement Number(string text, string? note, Rgb ground, Box box, double fontPx)
    {
        double y = box.Y + box.Height / 2;
        return note is null
            ? Line(text, y + 0.36 * fontPx, fontPx)
            : Svg.Group(Line(text, y + 0.08 * fontPx, 0.9 * fontPx), Line(note, y + 0.9 * fontPx, 0.72 * fontPx));

        XElement Line(string words, double baseline, double size) => Svg.Text(
            words, box.X + box.Width / 2, baseline, size, "middle", Svg.Class("cell-value"),
            Svg.Fill(ground.ReadableInk), new XAttribute("stroke", ground.Hex), new XAttribute("paint-order", "stroke"));
    }

    private static XElement NotMeasured(Box box)
    {
        const double LinePx = 12;
        (double x, double y) = (box.X + box.Width / 2, box.Y + box.Height / 2);
        string[] words = Numbers.NotMeasured.Split(' ');
        return box.Width >= 60
            ? Svg.Group(
                Svg.Class("unmeasured-words"),
                words.Select((word, i) => Svg.Text(word, x, y + 10 + LinePx * (i + 1 - words.Length), 11, "middle")))
            : Svg.Text("–", x, y + 4, 12, "middle", Svg.Class("unmeasured-words"));
    }

    /// <summary>A small cross in the corner of a cell that the scoring left out.</summary>
    private static XElement Cross(Box box, Rgb? ground)
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
        // A little over the corner, and no further however long its text.
        double half = MarkSvg.BadgeHalfWidth(new(badge, default, radius));
        BadgeMark mark = new(badge, new(box.X + box.Width + 0.4 * radius - half, box.Y + 0.6 * radius), radius);
        foreach (XElement element in MarkSvg.Draw([mark])) yield return element;
    }
}
