using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The grid of the card as a map: colour and number of each cell, sides of cut cells, boundary, recommended cells.</summary>
internal static class HeatMap
{
    private const double LegendPx = 58;
    private const int LegendSteps = 48;

    /// <summary>Draws the map.</summary>
    /// <param name="grid">The cells.</param>
    /// <param name="fits">True where it may shrink to the window's width.</param>
    /// <param name="quantity">What it shows; null for what the card's process asks for.</param>
    public static XElement Draw(GridCells grid, bool fits, HeatQuantity? quantity = null)
    {
        Plan plan = grid.Reading.Plan;
        quantity ??= HeatQuantity.Of(grid.Reading);
        GridFrame frame = new(plan, grid.Reading.Cells.Any(cell => cell.Sides is not null));
        double width = Math.Max(frame.Left + frame.Width + 12, 330);
        Box box = new(0, 0, width, frame.Top + frame.Height + LegendPx);

        return Svg.Drawing(
            Voice.Say(
                "page.map.alternative",
                ("title", quantity.Title), ("rows", plan.Rows.Values.Count), ("columns", plan.Columns.Values.Count),
                ("down", ShownSetting.Name(plan.Rows.Setting)), ("across", ShownSetting.Name(plan.Columns.Setting))),
            box, box.Width,
            Svg.Class(fits ? "chart fits" : "chart"),
            Axes(frame),
            plan.Cells.Select(cell => Ground(grid, cell, quantity, frame)),
            Clipped(BoundaryLine.Draw(grid.Reading, frame), frame),
            plan.Cells.Select(cell => HeatMapCell.Draw(grid, cell, quantity, frame.At(cell.Row, cell.Column), frame.FontPx)),
            grid.Reading.Cells.Any(cell => quantity.Value(cell) is not null) ? Legend(quantity, frame) : null);
    }

    /// <summary>What lies over the grid and nowhere else: an inner drawing clips by itself.</summary>
    private static XElement Clipped(IEnumerable<XElement> content, GridFrame frame) => new(
        "svg",
        Svg.At("x", frame.Left), Svg.At("y", frame.Top), Svg.At("width", frame.Width), Svg.At("height", frame.Height),
        new XAttribute(
            "viewBox", $"{Svg.Number(frame.Left)} {Svg.Number(frame.Top)} {Svg.Number(frame.Width)} {Svg.Number(frame.Height)}"),
        content);

    private static IEnumerable<XElement> Axes(GridFrame frame)
    {
        (Axis columns, Axis rows) = (frame.Plan.Columns, frame.Plan.Rows);
        yield return Svg.Text(
            ShownSetting.Heading(columns.Setting), frame.Left + frame.Width / 2, 15, 13, "middle", Svg.Class("axis-title"));
        foreach ((int i, double value) in columns.Values.Index())
            yield return Tick(ShownSetting.Bare(columns.Setting, value), frame.Between(0, i).X, frame.Top - 9, "middle");

        double middle = frame.Top + frame.Height / 2;
        yield return Svg.Text(
            ShownSetting.Heading(rows.Setting), 14, middle, 13, "middle", Svg.Class("axis-title"),
            new XAttribute("transform", $"rotate(-90 14 {Svg.Number(middle)})"));
        foreach ((int i, double value) in rows.Values.Index())
            yield return Tick(ShownSetting.Bare(rows.Setting, value), frame.Left - 8, frame.Between(i, 0).Y + 4.5, "end");

        static XElement Tick(string text, double x, double y, string anchor) => Svg.Text(text, x, y, 13, anchor, Svg.Class("tick"));
    }

    private static XElement Ground(GridCells grid, Cell cell, HeatQuantity quantity, GridFrame frame)
    {
        CellReading? found = grid.At(cell.Row, cell.Column);
        Box box = frame.At(cell.Row, cell.Column);
        double? value = found is null ? null : quantity.Value(found);
        return Svg.Rect(
            box.X + 1, box.Y + 1, box.Width - 2, box.Height - 2, Svg.At("rx", 3),
            value is double known ? Svg.Fill(quantity.Colour(known)) : Svg.Class("unmeasured"),
            Svg.Tip(Tip(grid, cell, found, quantity)));
    }

    private static IEnumerable<XElement> Legend(HeatQuantity quantity, GridFrame frame)
    {
        const double BarPx = 240;
        double top = frame.Top + frame.Height + 18;
        for (int i = 0; i < LegendSteps; i++)
        {
            double value = quantity.Low + (quantity.High - quantity.Low) * (i + 0.5) / LegendSteps;
            // A hair wider than its share, so that no seam shows between two steps.
            yield return Svg.Rect(
                frame.Left + BarPx * i / LegendSteps, top, BarPx / LegendSteps + 0.6, 10, Svg.Fill(quantity.Colour(value)));
        }

        yield return Svg.Text(quantity.Print(quantity.Low), frame.Left, top + 24, 12, "start", Svg.Class("tick"));
        yield return Svg.Text(quantity.Print(quantity.High), frame.Left + BarPx, top + 24, 12, "end", Svg.Class("tick"));
        yield return Svg.Text(quantity.Legend, frame.Left + BarPx / 2, top + 24, 12, "middle", Svg.Class("axis-title"));
    }

    private static string Tip(GridCells grid, Cell cell, CellReading? found, HeatQuantity quantity)
    {
        Plan plan = grid.Reading.Plan;
        CellSettings burned = found?.Settings ?? plan.SettingsOf(cell);
        bool isMeasured = found is not null && quantity.Value(found) is not null;
        return Voice.Say(
            "page.map.tip",
            ("setting", ShownSetting.Of(plan, cell, burned)), ("kind", isMeasured ? quantity.Kind : "none"),
            ("value", isMeasured ? quantity.Tip(found!) : Numbers.NotMeasured));
    }
}
