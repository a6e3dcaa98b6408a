using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Two cards of the same settings, cell by cell: maps and a table.</summary>
internal static class CellsSection
{
    /// <summary>More columns than two maps beside each other can show.</summary>
    private const int MostFittingColumns = 7;

    public static XElement? Write(ComparedPair pair, Reading first, Reading later, bool isOneOfMany, int index)
    {
        if (pair.Cells.Count == 0) return null;
        bool isCut = first.Plan.Process == Process.Cut;
        Dictionary<(int, int), double> differences = pair.Cells.ToDictionary(cell => (cell.Row, cell.Column), cell => cell.Difference);
        Dictionary<(int, int), double> colours = pair.Cells.Where(cell => cell.DeltaE2000Difference is not null).ToDictionary(cell => (cell.Row, cell.Column), cell => cell.DeltaE2000Difference!.Value);
        HashSet<(int, int)> differs = [.. pair.Cells.Where(cell => cell.IsDifferent == true).Select(cell => (cell.Row, cell.Column))];
        string other = $"{pair.Other} less {pair.Reference}";
        return Html.Section(
            $"cells-{index + 1}", isOneOfMany ? $"{pair.Other}: cell by cell" : "Cell by cell",
            new XElement(
                "div",
                Html.Class(first.Plan.Columns.Values.Count > MostFittingColumns ? "pair wide" : "pair"),
                isCut
                    ? Map(later, HeatQuantity.Difference("difference of the open share", "difference of open share", 2, differences, differs), $"Share of the judged sides that is open, {other}.")
                    : Map(later, HeatQuantity.Difference("difference of darkness", "difference of darkness", 2, differences, differs), $"Darkness D, {other}: positive is darker. {DiffersWords(pair)}"),
                colours.Count == 0 ? null : Map(
                    later, HeatQuantity.Difference("difference of ΔE2000", "difference of ΔE2000", 1, colours, new HashSet<(int, int)>()),
                    $"ΔE2000 of each cell against its own bare material, {other}: positive stands out more. The two cells' colours are not compared directly, since each photo has a white of its own.")),
            new XElement("details", new XElement("summary", "The same as a table"), Table(pair, first)));
    }

    private static string DiffersWords(ComparedPair pair) => pair.Cells.Any(cell => cell.IsDifferent == true)
        ? "“differs”: by more than chance, at 5 % for the card as a whole (Holm)."
        : "No cell differs by more than chance, at 5 % for the card as a whole (Holm).";

    private static XElement Map(Reading reading, HeatQuantity quantity, string caption)
    {
        // The map of differences shows neither sides nor recommendations: those are each card's own.
        Reading bare = reading with { Recommendations = [], Boundary = null, Cells = reading.Cells.Select(cell => cell with { Sides = null, Flags = [] }).ToValueList() };
        bool fits = reading.Plan.Columns.Values.Count <= MostFittingColumns;
        return new(
            "figure",
            Html.Scroller($"Map: {quantity.Title}", fits, HeatMap.Draw(new GridCells(bare), fits, quantity)),
            new XElement("figcaption", caption));
    }

    private static XElement Table(ComparedPair pair, Reading first)
    {
        Plan plan = first.Plan;
        bool isCut = plan.Process == Process.Cut;
        string quantity = isCut ? "open share" : "darkness";
        string[] headings =
        [
            "Cell", SettingWords.Heading(plan.Columns.Setting), SettingWords.Heading(plan.Rows.Setting), $"Mean {quantity}", "Difference",
            .. isCut ? (string[])["Limits, unseen stretches either way"] : ["95 % interval", "Probability (Holm)"],
            .. pair.Cells.Any(cell => cell.DeltaE2000Difference is not null) ? (string[])["ΔE2000, difference"] : [],
        ];
        return Html.Scroller(
            "Table of the cells", fits: false,
            new XElement(
                "table",
                Html.Class("cells"),
                new XElement("thead", new XElement("tr", headings.Select(text => Html.Heading("col", text)))),
                new XElement("tbody", pair.Cells.Select(cell => Row(cell, plan, headings.Length)))));
    }

    private static XElement Row(CellDifference cell, Plan plan, int columns)
    {
        List<string> texts =
        [
            Numbers.Chosen(plan.Columns.Values[cell.Column]), Numbers.Chosen(plan.Rows.Values[cell.Row]), Numbers.Fixed(cell.Mean, 3), Numbers.WithSign(cell.Difference, 3),
        ];
        texts.Add(cell.Interval is { } interval ? $"{Numbers.WithSign(interval.Low, 3)} to {Numbers.WithSign(interval.High, 3)}" : "–");
        if (plan.Process != Process.Cut) texts.Add(cell.Probability is { } p ? $"{(p < 0.001 ? "< 0.001" : Numbers.Fixed(p, 3))}{(cell.IsDifferent == true ? ", differs" : "")}" : "–");
        if (texts.Count + 1 < columns) texts.Add(cell.DeltaE2000Difference is { } colour ? Numbers.WithSign(colour, 1) : "–");
        return new("tr", Html.Heading("row", $"r{cell.Row + 1}\u00a0c{cell.Column + 1}"), texts.Select(text => new XElement("td", text)));
    }
}
