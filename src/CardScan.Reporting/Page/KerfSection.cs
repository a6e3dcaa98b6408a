using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How wide the cut is along each axis; a diode's beam is no circle, so the two differ.</summary>
internal static class KerfSection
{
    private static readonly string[] Headings =
    [
        "page.kerf.head-cells", "page.kerf.head-across", "page.kerf.head-kerf", "page.kerf.head-compensation", "page.kerf.head-range",
        "page.kerf.head-sides",
    ];

    public static XElement? Write(GridCells grid)
    {
        Reading reading = grid.Reading;
        if (!reading.Cells.Any(cell => cell.Sides is not null)) return null;
        List<XElement> rows = [.. Recommended(grid), .. Rows(Voice.Say("page.kerf.all"), reading.Cells)];
        string title = Voice.Say("page.kerf.title");
        if (rows.Count == 0) return Html.Section("kerf", title, Html.Paragraph(Voice.Say("page.kerf.none")));

        return Html.Section(
            "kerf", title,
            Html.Scroller(
                Voice.Say("page.kerf.table"), fits: false,
                new XElement("table", Html.Head(Headings.Select(key => Voice.Say(key))), new XElement("tbody", rows))),
            Html.Paragraph(Html.Class("meaning"), Voice.Say("page.kerf.meaning", ("common", Mm(CardKerf.CommonErrorMm)))));
    }

    private static IEnumerable<XElement> Recommended(GridCells grid)
    {
        // Two settings may be backed by one cell; its kerf is told once.
        var groups = grid.Settings.Where(setting => setting.First.Cell is not null)
            .GroupBy(setting => (setting.First.Card, setting.First.Cell!));
        foreach (var group in groups)
        {
            Recommendation first = group.First().First;
            if (grid.Reading.CellOf(first) is not { } cell) continue;
            string name = Voice.Say(
                "page.kerf.recommendation",
                ("count", group.Count()), ("numbers", List(group.Select(setting => setting.Number))), ("place", GridCells.Place(first)!));
            foreach (XElement row in Rows(name, [cell])) yield return row;
        }
    }

    private static IEnumerable<XElement> Rows(string name, IEnumerable<CellReading> cells)
    {
        if (KerfSummary.AcrossX(cells) is { } x) yield return Row(name, "x", x);
        if (KerfSummary.AcrossY(cells) is { } y) yield return Row(name, "y", y);
    }

    private static XElement Row(string name, string axis, KerfSummary kerf) => new(
        "tr",
        Html.Heading("row", name),
        new XElement("td", axis),
        new XElement("td", WithError(kerf.MeanMm, kerf.StandardErrorMm)),
        new XElement("td", WithError(kerf.MeanMm / 2, kerf.StandardErrorMm / 2)),
        new XElement("td", Html.Range(Numbers.Fixed(kerf.LowestMm, 2), Numbers.Fixed(kerf.HighestMm, 2))),
        new XElement("td", kerf.Count));

    /// <summary>At most three decimals: less than a micrometre is beyond any photo.</summary>
    private static string WithError(double valueMm, double? errorMm) => errorMm is { } error and >= 0.0005
        ? Numbers.WithError(new(valueMm, error), mostDecimals: 3)
        : Numbers.Fixed(valueMm, errorMm is null ? 2 : 3);
}
