using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The page of a comparison, from top to bottom.</summary>
internal static class ComparisonPage
{
    public static string Write(ComparisonInput input)
    {
        Comparison comparison = input.Comparison;
        XElement main = new("main", Parts(input));
        XElement footer = new("footer", Html.Paragraph(Voice.Say("page.compare.footer", ("readings", comparison.Batches.Count))));
        return PageShell.Write(TitleText(comparison), main, footer);
    }

    /// <summary>The page's parts, from top to bottom.</summary>
    public static IEnumerable<XElement> Parts(ComparisonInput input)
    {
        Comparison comparison = input.Comparison;
        bool isOneOfMany = comparison.Pairs.Count > 1;
        return new[]
        {
            Title(comparison), PairSection.Write(comparison, input.Readings), ControlSection.Write(comparison),
        }
        .Concat(comparison.Pairs.Select((pair, i) => CurvesSection.Write(pair, isOneOfMany, i)))
        .Concat(comparison.Pairs.Select((pair, i) => CellsSection.Write(pair, input.Readings[0], input.Readings[i + 1], isOneOfMany, i)))
        .Concat([PictureSection.Write(input), BatchSection.Write(comparison), RepeatSection.Write(comparison),
            CautionSection.Write(input.Readings[0].Plan)])
        .OfType<XElement>();
    }

    private static XElement Title(Comparison comparison) => new(
        "header",
        Html.Paragraph(Html.Class("eyebrow"), Voice.Say("page.compare.eyebrow", ("process", $"{comparison.Process}"))),
        new XElement("h1", TitleText(comparison)));

    private static string TitleText(Comparison comparison) => Voice.Say(
        "page.compare.title",
        ("pairs", comparison.Pairs.Count), ("other", comparison.Pairs[0].Other), ("reference", comparison.Pairs[0].Reference));
}
