using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What was compared.</summary>
internal static class BatchSection
{
    private static readonly string[] Headings =
    [
        "page.compare.head-name", "page.compare.head-card", "page.fact.material", "page.fact.batch", "page.fact.machine",
        "page.compare.head-used",
    ];

    public static XElement Write(Comparison comparison) => Html.Section(
        "batches", Voice.Say("page.compare.batches"),
        Html.Scroller(
            Voice.Say("page.compare.batches-table"), fits: false,
            new XElement(
                "table", Html.Head(Headings.Select(key => Voice.Say(key))), new XElement("tbody", comparison.Batches.Select(Row)))));

    private static XElement Row(ComparedBatch batch) => new(
        "tr",
        Html.Heading("row", batch.Label),
        new XElement("td", batch.Number),
        new XElement("td", ShownPlan.Material(batch.Material)),
        new XElement("td", batch.Material.Batch is { Length: > 0 } name ? name : Unnamed()),
        new XElement("td", ShownPlan.Machine(batch.Machine)),
        new XElement("td", batch.UsedCells));

    private static XElement Unnamed() => new("span", Html.Class("absent"), Voice.Say("page.compare.unnamed"));
}
