using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Two cards of the same settings, cell by cell: maps and a table.</summary>
internal static class CellsSection
{
    /// <summary>More columns than two maps beside each other can show.</summary>
    private const int MostFittingColumns = 7;

    /// <summary>Smaller probabilities are not told apart.</summary>
    private const double LeastProbability = 0.001;

    private sealed record ComparedColumn(string Heading, Func<CellDifference, string> Text);

    public static XElement? Write(ComparedPair pair, Reading first, Reading later, bool isOneOfMany, int index)
    {
        if (pair.Cells.Count == 0) return null;
        return Html.Section(
            $"cells-{index + 1}",
            Voice.Say("page.compare.cells-title", isOneOfMany ? [("batch", pair.Other)] : Array.Empty<(string, Figure)>()),
            new XElement("div", Html.Class(Fits(first) ? "pair" : "pair wide"), Maps(pair, later, first.Plan.Process == Process.Cut)),
            new XElement("details", new XElement("summary", Voice.Say("page.compare.as-table")), Table(pair, first.Plan)));
    }

    private static bool Fits(Reading reading) => reading.Plan.Columns.Values.Count <= MostFittingColumns;

    private static IEnumerable<XElement> Maps(ComparedPair pair, Reading later, bool isCut)
    {
        HashSet<(int, int)> differs = [.. pair.Cells.Where(cell => cell.IsDifferent == true).Select(cell => (cell.Row, cell.Column))];
        Dictionary<(int, int), double> differences = pair.Cells.ToDictionary(cell => (cell.Row, cell.Column), cell => cell.Difference);
        string kind = isCut ? "open-difference" : "darkness-difference";
        string caption = isCut ? "page.compare.map-open" : "page.compare.map-darkness";
        yield return Map(later, HeatQuantity.Difference(kind, 2, differences, differs), Caption(pair, caption));

        Dictionary<(int, int), double> colours = pair.Cells.Where(cell => cell.DeltaE2000Difference is not null)
            .ToDictionary(cell => (cell.Row, cell.Column), cell => cell.DeltaE2000Difference!.Value);
        if (colours.Count == 0) yield break;
        HeatQuantity quantity = HeatQuantity.Difference("colour-difference", 1, colours, new HashSet<(int, int)>());
        yield return Map(later, quantity, Caption(pair, "page.compare.map-colour"));
    }

    private static string Caption(ComparedPair pair, string key) => Voice.Say(
        key, ("other", pair.Other), ("reference", pair.Reference), ("differs", Is(pair.Cells.Any(cell => cell.IsDifferent == true))));

    private static XElement Map(Reading reading, HeatQuantity quantity, string caption)
    {
        // The map of differences shows neither sides nor recommendations: those are each card's own.
        ValueList<CellReading> cells = reading.Cells.Select(cell => cell with { Sides = null, Flags = [] }).ToValueList();
        Reading bare = reading with { Recommendations = [], Boundary = null, Cells = cells };
        return new(
            "figure",
            Html.Scroller(
                Voice.Say("page.map.label", ("title", quantity.Title)), Fits(reading),
                HeatMap.Draw(new GridCells(bare), Fits(reading), quantity)),
            new XElement("figcaption", caption));
    }

    private static XElement Table(ComparedPair pair, Plan plan)
    {
        ComparedColumn[] columns = [.. Columns(pair, plan)];
        return Html.Scroller(
            Voice.Say("page.compare.cells-table"), fits: false,
            new XElement(
                "table",
                Html.Class("cells"),
                Html.Head([Voice.Say("page.compare.head-cell"), .. columns.Select(column => column.Heading)]),
                new XElement("tbody", pair.Cells.Select(cell => new XElement(
                    "tr",
                    Html.Heading("row", ShownCell.Name(cell.Row, cell.Column)),
                    columns.Select(column => new XElement("td", column.Text(cell))))))));
    }

    private static IEnumerable<ComparedColumn> Columns(ComparedPair pair, Plan plan)
    {
        (string, Figure) process = ("process", $"{plan.Process}");
        yield return new(ShownSetting.Heading(plan.Columns.Setting), cell => Of(plan.Columns, cell.Column));
        yield return new(ShownSetting.Heading(plan.Rows.Setting), cell => Of(plan.Rows, cell.Row));
        yield return new(Voice.Say("page.compare.head-mean", process), cell => Numbers.Fixed(cell.Mean, 3));
        yield return new(Voice.Say("page.compare.head-difference"), cell => Signed(cell.Difference));
        yield return new(
            Voice.Say("page.compare.head-limits", process),
            cell => cell.Interval is { } interval ? Html.Range(Signed(interval.Low), Signed(interval.High)) : "–");
        if (plan.Process != Process.Cut) yield return new(Voice.Say("page.compare.head-probability"), Probability);
        if (pair.Cells.All(cell => cell.DeltaE2000Difference is null)) yield break;
        yield return new(
            Voice.Say("page.compare.head-colour"),
            cell => cell.DeltaE2000Difference is { } colour ? Numbers.WithSign(colour, 1) : "–");

        static string Of(Axis axis, int index) => ShownSetting.Bare(axis.Setting, axis.Values[index]);
        static string Signed(double value) => Numbers.WithSign(value, 3);
    }

    private static string Probability(CellDifference cell) => cell.Probability is not { } p ? "–" : Voice.Say(
        "page.compare.probability",
        ("small", Is(p < LeastProbability)), ("p", Numbers.Fixed(Math.Max(p, LeastProbability), 3)),
        ("differs", Is(cell.IsDifferent == true)));
}
