using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Which card this is.</summary>
internal static class TitleSection
{
    public static XElement Write(Plan plan) => new(
        "header",
        Html.Paragraph(Html.Class("eyebrow"), $"Card {plan.Number} · {PlanWords.Process(plan.Process)}"),
        new XElement("h1", plan.Title.Length > 0 ? plan.Title : $"Card {plan.Number}"),
        Html.Facts(Facts(plan)));

    private static IEnumerable<(string Name, string Value)> Facts(Plan plan)
    {
        yield return ("Material", PlanWords.Material(plan.Material));
        if (plan.Material.Batch is { Length: > 0 } batch) yield return ("Batch", batch);
        yield return ("Machine", PlanWords.Machine(plan.Machine));
        yield return ("Grid", $"{Count(plan.Cells.Count, "cell")}: {Span(plan.Columns)} across, {Span(plan.Rows)} down");
    }

    private static string Span(Axis axis)
    {
        (double low, double high) = (axis.Values.Min(), axis.Values.Max());
        string name = SettingWords.Name(axis.Setting);
        return low == high
            ? $"{name} {SettingWords.WithUnit(axis.Setting, low)}"
            : $"{name} {Numbers.Chosen(low)} to {SettingWords.WithUnit(axis.Setting, high)}";
    }

    private static string Count(int count, string noun) => count == 1 ? $"1 {noun}" : $"{count} {noun}s";
}
