using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How wide the cut is along each axis; a diode's beam is no circle, so the two differ.</summary>
internal static class KerfSection
{
    private static readonly string[] Headings =
        ["Cells", "Across", "Kerf, mm", "Compensation (half the kerf), mm", "Narrowest to widest, mm", "Sides"];

    public static XElement? Write(GridCells grid)
    {
        Reading reading = grid.Reading;
        if (!reading.Cells.Any(cell => cell.Sides is not null)) return null;
        List<XElement> rows = [.. Recommended(grid), .. Rows("All cells", reading.Cells)];
        if (rows.Count == 0)
            return Html.Section("kerf", "Kerf", Html.Paragraph($"The kerf was {Numbers.NotMeasured}."));

        return Html.Section(
            "kerf", "Kerf",
            Html.Scroller(
                "Table of the kerf", fits: false,
                new XElement(
                    "table",
                    new XElement("thead", new XElement("tr", Headings.Select(text => Html.Heading("col", text)))),
                    new XElement("tbody", rows))),
            Html.Paragraph(Html.Class("meaning"), "Across x: width of the cuts that run along y (left and right sides). Across y: width of the cuts that run along x (top and bottom sides). ± is one standard error of the mean, given for three sides or more; most of it (0.03 mm) is shared by all sides of a photo, since the lamp is brighter than the photo can show. All cells: an average over the open sides of all settings of the card."));
    }

    private static IEnumerable<XElement> Recommended(GridCells grid)
    {
        // Two settings may be backed by one cell; its kerf is told once.
        foreach (var group in grid.Settings.Where(setting => setting.First.Cell is not null).GroupBy(setting => (setting.First.Card, setting.First.Cell!)))
        {
            Recommendation first = group.First().First;
            if (grid.Reading.CellOf(first) is not { } cell) continue;
            string numbers = string.Join(" and ", group.Select(setting => setting.Number));
            foreach (XElement row in Rows($"Recommendation {numbers}, {GridCells.Place(first)}", [cell])) yield return row;
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
        new XElement("td", $"{Numbers.Fixed(kerf.LowestMm, 2)} to {Numbers.Fixed(kerf.HighestMm, 2)}"),
        new XElement("td", kerf.Count));

    /// <summary>At most three decimals: less than a micrometre is beyond any photo.</summary>
    private static string WithError(double valueMm, double? errorMm)
    {
        if (errorMm is not double error || error < 0.0005) return Numbers.Fixed(valueMm, errorMm is null ? 2 : 3);
        int decimals = Math.Min(3, Numbers.DecimalsFor(error));
        return $"{Numbers.Fixed(valueMm, decimals)}\u00a0±\u00a0{Numbers.Fixed(error, decimals)}";
    }
}
