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
                "div",
                Html.Class(IsWide(reading) ? "pair wide" : "pair"),
                new XElement(
                    "figure",
                    Html.Scroller("Heat map of the grid", !IsWide(reading), HeatMap.Draw(grid, fits: !IsWide(reading))),
                    new XElement("figcaption", Caption(reading, showsSides)),
                    showsSides ? new XElement("ul", Html.Class("key"), KeyEntry.SidesOf(reading).Select(KeyItem.Write)) : null),
                Boundary(reading)));
    }

    /// <summary>More columns than a phone can show at a size that reads.</summary>
    private static bool IsWide(Reading reading) => reading.Plan.Columns.Values.Count > 7;

    private static string Caption(Reading reading, bool showsSides)
    {
        List<string> sentences =
        [
            showsSides
                ? "Number and colour: how much of the sides that could be judged is open. Edges: the four sides of each cell."
                : reading.Plan.Kind == CardKind.FocusLadder ? "Number and colour: mean width of the cell's lines, mm, of the wider direction."
                : reading.Plan.Process == Process.Cut ? "Number and colour: char beside the cut, mm. Whether the sides are through takes a photo with light from behind."
                : "Number and colour: darkness D = −log10(Y cell / Y bare) against the bare material beside the cell; positive is darker, negative lighter.",
        ];
        if (reading.Cells.Any(cell => cell.Sides is { } sides && CellWords.Each(sides).Any(side => side.Side.State == SideState.Unseen)))
            sentences.Add("“of 3” under a number: the fourth side is unseen and not counted.");
        if (reading.Recommendations.Any(recommendation => recommendation.OwnCell is not null)) sentences.Add("Frame and number in a disc: recommended.");
        if (reading.Cells.Any(CellWords.IsLeftOut)) sentences.Add("Cross in the corner: left out of the scoring.");
        if (HeatMapHasGaps(reading, showsSides)) sentences.Add($"Dashed box, or a dash for its number: {Numbers.NotMeasured}.");
        if (BoundaryLine.CanDraw(reading, new(reading.Plan, showsSides)))
            sentences.AddRange(reading.Boundary!.Select(point => point.Goal).Distinct(StringComparer.Ordinal).Select(BoundaryWords.Line));
        return string.Join(' ', sentences);
    }

    private static bool HeatMapHasGaps(Reading reading, bool showsSides) =>
        reading.Cells.Count < reading.Plan.Cells.Count
        || reading.Cells.Any(cell => showsSides ? CellWords.OpenShare(cell) is null : reading.Plan.Kind == CardKind.FocusLadder ? CellWords.LineWidthMm(cell) is null : HeatQuantity.Of(reading).Value(cell) is null);

    private static XElement? Boundary(Reading reading)
    {
        if (reading.Boundary is not { Count: > 0 } boundary) return null;
        return new(
            "div",
            boundary.GroupBy(point => point.Goal).Select(goal => new XElement(
                "table",
                new XElement("caption", BoundaryWords.Caption(goal.Key)),
                new XElement("thead", new XElement("tr", Html.Heading("col", "Speed, mm/min"), Html.Heading("col", BoundaryWords.Power(goal.Key)), Html.Heading("col", "95 % interval, %"))),
                new XElement("tbody", goal.Select(Row)))));
    }

    private static XElement Row(BoundaryPoint point)
    {
        // Nobody sets power finer than a tenth of a percent.
        int decimals = Math.Min(1, Numbers.DecimalsFor((point.High - point.Low) / (2 * 1.96)));
        return new(
            "tr",
            Html.Heading("row", Numbers.Chosen(point.SpeedMmPerMin)),
            new XElement("td", point.PowerPercent > 100 ? "not reached at 100" : Numbers.Fixed(point.PowerPercent, decimals)),
            new XElement("td", point.Low > 100 ? "above 100" : $"{Percent(point.Low)} to {Percent(point.High)}"));

        // No machine gives more than its full power.
        string Percent(double value) => value > 100 ? "above 100" : Numbers.Fixed(value, decimals);
    }
}
