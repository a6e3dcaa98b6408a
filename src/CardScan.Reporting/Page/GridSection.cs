using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The heat map with what it takes to read it, and the boundary in numbers.</summary>
internal static class GridSection
{
    /// <summary>No machine gives more than its full power.</summary>
    private const double MostPercent = 100;

    public static XElement Write(GridCells grid)
    {
        Reading reading = grid.Reading;
        bool showsSides = reading.Cells.Any(cell => cell.Sides is not null);
        return Html.Section(
            "grid", Voice.Say("page.grid.title"),
            new XElement(
                "div",
                Html.Class(IsWide(reading) ? "pair wide" : "pair"),
                new XElement(
                    "figure",
                    Html.Scroller(Voice.Say("page.grid.scroller"), !IsWide(reading), HeatMap.Draw(grid, fits: !IsWide(reading))),
                    new XElement("figcaption", string.Join(' ', Caption(reading, showsSides))),
                    showsSides ? new XElement("ul", Html.Class("key"), KeyEntry.SidesOf(reading).Select(KeyItem.Write)) : null),
                Boundary(reading)));
    }

    /// <summary>More columns than a phone can show at a size that reads.</summary>
    private static bool IsWide(Reading reading) => reading.Plan.Columns.Values.Count > 7;

    /// <summary>Sentence after sentence, for what the map shows.</summary>
    private static IEnumerable<string> Caption(Reading reading, bool showsSides)
    {
        HeatQuantity quantity = HeatQuantity.Of(reading);
        yield return Voice.Say("page.grid.value", ("kind", quantity.Kind));
        if (reading.Cells.Any(cell => cell.Sides is { } sides && ShownCell.Each(sides).Any(side => side.State == SideState.Unseen)))
            yield return Voice.Say("page.grid.of-three");
        if (reading.Recommendations.Any(each => each.OwnCell is not null)) yield return Voice.Say("page.grid.recommended");
        if (reading.Cells.Any(ShownCell.IsLeftOut)) yield return Voice.Say("page.grid.left-out");
        if (reading.Cells.Count < reading.Plan.Cells.Count || reading.Cells.Any(cell => quantity.Value(cell) is null))
            yield return Voice.Say("page.grid.gaps");
        if (!BoundaryLine.CanDraw(reading, new(reading.Plan, showsSides))) yield break;
        foreach (string goal in reading.Boundary!.Select(point => point.Goal).Distinct(StringComparer.Ordinal))
            yield return Voice.Say("page.grid.boundary-line", ("kind", KindOf(goal)), ("goal", GoalName.Of(goal)));
    }

    /// <summary>What a boundary is of. On a cut card it is a coin toss, and must not pass for a setting.</summary>
    private static string KindOf(string goal) => goal switch
    {
        Goal.SureCut or Goal.CleanCut => "cut",
        Goal.FastestFullMark => "mark",
        _ => "other",
    };

    private static XElement? Boundary(Reading reading) => reading.Boundary is not { Count: > 0 } boundary ? null : new(
        "div",
        boundary.GroupBy(point => point.Goal).Select(goal => new XElement(
            "table",
            new XElement("caption", Voice.Say("page.grid.boundary", ("kind", KindOf(goal.Key)), ("goal", GoalName.Of(goal.Key)))),
            Html.Head(
                ShownSetting.Heading(Setting.SpeedMmPerMin), Voice.Say("page.grid.boundary-power", ("kind", KindOf(goal.Key))),
                Voice.Say("page.grid.boundary-interval")),
            new XElement("tbody", goal.Select(Row)))));

    private static XElement Row(BoundaryPoint point)
    {
        // Nobody sets power finer than a tenth of a percent.
        int decimals = Math.Min(1, Numbers.DecimalsFor((point.High - point.Low) / (2 * NormalQuantile.TwoSided95)));
        string above = Voice.Say("page.grid.above", ("most", Power(MostPercent)));
        return new(
            "tr",
            Html.Heading("row", ShownSetting.Bare(Setting.SpeedMmPerMin, point.SpeedMmPerMin)),
            new XElement("td", point.PowerPercent > MostPercent
                ? Voice.Say("page.grid.unreached", ("most", Power(MostPercent)))
                : Percent(point.PowerPercent)),
            new XElement("td", point.Low > MostPercent ? above : Html.Range(Percent(point.Low), Percent(point.High))));

        string Percent(double value) => value > MostPercent ? above : Numbers.Fixed(value, decimals);
    }
}
