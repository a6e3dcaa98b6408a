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
    /// <param name="quantity">What it shows; null for what the card's process asks for.</param>
    public static XElement Draw(GridCells grid, bool fits, HeatQuantity? quantity = null)
    {
        Plan plan = grid.Reading.Plan;
        quantity ??= HeatQuantity.Of(grid.Reading);
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
            plan.Cells.Select(cell => HeatMapCell.Draw(grid, cell, quantity, frame.At(cell.Row, cell.Column), frame.FontPx)),
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
            yield return Svg.Rect(frame.Left + BarPx * i / LegendSteps, top, BarPx / LegendSteps + 0.6, 10, Svg.Fill(quantity.Colour(value)));
        }

        yield return Svg.Text(quantity.PrintEnd(quantity.Low), frame.Left, top + 24, 12, "start", Svg.Class("tick"));
        yield return Svg.Text(quantity.PrintEnd(quantity.High), frame.Left + BarPx, top + 24, 12, "end", Svg.Class("tick"));
        yield return Svg.Text(quantity.Legend, frame.Left + BarPx / 2, top + 24, 12, "middle", Svg.Class("axis-title"));
    }

    private static string Tip(GridCells grid, Cell cell, CellReading? found, HeatQuantity quantity)
    {
        Plan plan = grid.Reading.Plan;
        string burned = SettingWords.AxesOf(plan, found?.Settings ?? plan.SettingsOf(cell));
        string measured = found is not null && quantity.Tip is { } tip ? tip(found)
            : found?.Darkness is { } darkness ? $"darkness {Numbers.WithError(darkness)}"
            : found?.Through is { } through ? CellWords.Through(through)
            : Numbers.NotMeasured;
        return $"{burned}: {measured}";
    }
}
