using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Which card this is, and whether its reading can be used.</summary>
internal static class TitleSection
{
    public static XElement Write(Reading reading)
    {
        Plan plan = reading.Plan;
        return new(
            "header",
            Html.Paragraph(Html.Class("eyebrow"), $"Card {plan.Number} · {PlanWords.Process(plan.Process)}"),
            new XElement("h1", plan.Title.Length > 0 ? plan.Title : $"Card {plan.Number}"),
            Html.Facts(Facts(plan)),
            Judged(Judgement.Of(reading)),
            PlanWords.ScoredTogether(reading) is { } together ? Html.Paragraph(Html.Class("together"), together) : null);
    }

    /// <summary>The judgement tells itself by its words; its colour only repeats them.</summary>
    private static XElement Judged(Judgement judgement) => Html.Paragraph(
        Html.Class(judgement.Usability == Usability.AsItIs ? "judgement" : "judgement doubtful"),
        new XElement("strong", judgement.Lead),
        judgement.Detail.Length == 0 ? null : $" {judgement.Detail}");

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
