using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What was compared.</summary>
internal static class BatchSection
{
    private static readonly string[] Headings = ["Name here", "Card", "Material", "Batch", "Machine", "Cells used"];

    public static XElement Write(Comparison comparison) => Html.Section(
        "batches", "What was compared",
        Html.Scroller(
            "Table of the readings", fits: false,
            new XElement(
                "table",
                new XElement("thead", new XElement("tr", Headings.Select(text => Html.Heading("col", text)))),
                new XElement("tbody", comparison.Batches.Select(Row)))));

    private static XElement Row(ComparedBatch batch) => new(
        "tr",
        Html.Heading("row", batch.Label),
        new XElement("td", batch.Number),
        new XElement("td", PlanWords.Material(batch.Material)),
        new XElement("td", batch.Material.Batch is { Length: > 0 } name ? name : new XElement("span", Html.Class("absent"), "not named")),
        new XElement("td", PlanWords.Machine(batch.Machine)),
        new XElement("td", batch.UsedCells));
}
