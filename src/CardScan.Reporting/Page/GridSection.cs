using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The heat map with what it takes to read it, and the boundary in numbers.</summary>
internal static class GridSection
{
    public static XElement Write(GridCells grid)
    {
        Reading reading = grid.Reading;
        bool showsSides = reading.Cells.Any(cell => cell.Sides is not null);
        return Html.Section(
            "grid", "The grid",
            new XElement(
                "figure",
                Html.Scroller("Heat map of the grid", HeatMap.Draw(grid)),
                new XElement("figcaption", Caption(reading, showsSides))),
            showsSides ? new XElement("ul", Html.Class("key"), KeyEntry.Sides.Select(KeyItem.Write)) : null,
            Boundary(reading));
    }

    private static string Caption(Reading reading, bool showsSides)
    {
        List<string> sentences =
        [
            showsSides
                ? "Number and colour: how much of the sides that could be judged is open. Edges: the four sides of each cell."
                : "Number and colour: darkness D = −log10(Y cell / Y bare) against the bare material beside the cell; positive is darker, negative lighter.",
        ];
        if (reading.Recommendations.Any(recommendation => recommendation.Cell is not null)) sentences.Add("Frame and number in a disc: recommended.");
        if (reading.Cells.Any(CellWords.IsLeftOut)) sentences.Add("Cross in the corner: left out of the scoring.");
        if (HeatMapHasGaps(reading, showsSides)) sentences.Add($"Dashed box, or a dash for its number: {Numbers.NotMeasured}.");
        if (BoundaryLine.CanDraw(reading, new(reading.Plan, showsSides)))
            sentences.Add("Line: least power that reaches the goal at each speed, with its 95 % band; at the grid's edge it may lie beyond.");
        return string.Join(' ', sentences);
    }

    private static bool HeatMapHasGaps(Reading reading, bool showsSides) =>
        reading.Cells.Count < reading.Plan.Cells.Count
        || reading.Cells.Any(cell => showsSides ? CellWords.OpenShare(cell) is null : cell.Darkness is null);

    private static XElement? Boundary(Reading reading)
    {
        if (reading.Boundary is not { Count: > 0 } boundary) return null;
        return new(
            "table",
            Html.Class("boundary"),
            new XElement("caption", "Least power that reaches the goal, with its 95 % interval"),
            new XElement("thead", new XElement("tr", Html.Heading("col", "Goal"), Html.Heading("col", "Speed, mm/min"), Html.Heading("col", "Least power, %"), Html.Heading("col", "95 % interval, %"))),
            new XElement("tbody", boundary.Select(Row)));
    }

    private static XElement Row(BoundaryPoint point)
    {
        int decimals = Numbers.DecimalsFor((point.High - point.Low) / (2 * 1.96));
        return new(
            "tr",
            new XElement("td", GoalWords.Name(point.Goal)),
            Html.Heading("row", Numbers.Chosen(point.SpeedMmPerMin)),
            new XElement("td", Numbers.Fixed(point.PowerPercent, decimals)),
            new XElement("td", $"{Numbers.Fixed(point.Low, decimals)} to {Numbers.Fixed(point.High, decimals)}"));
    }
}
