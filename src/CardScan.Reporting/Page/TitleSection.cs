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
            Html.Paragraph(Html.Class("eyebrow"), Voice.Say("page.eyebrow", ("number", plan.Number), ("process", $"{plan.Process}"))),
            new XElement("h1", plan.Title.Length > 0 ? plan.Title : ShownPlan.Number(plan)),
            Html.Facts(Facts(plan)),
            Judged(reading),
            ShownPlan.ScoredTogether(reading) is { } together ? Html.Paragraph(Html.Class("together"), together) : null);
    }

    /// <summary>The judgement tells itself by its words; its colour only repeats them.</summary>
    public static XElement Judged(Reading reading, bool isBrief = false)
    {
        Judgement judgement = Judgement.Of(reading);
        return Html.Paragraph(
            Html.Class(judgement.Usability == Usability.AsItIs ? "judgement" : "judgement doubtful"),
            new XElement("strong", judgement.Lead),
            isBrief || judgement.Detail.Length == 0 ? null : $" {judgement.Detail}");
    }

    private static IEnumerable<(string Name, string Value)> Facts(Plan plan)
    {
        yield return (Voice.Say("page.fact.material"), ShownPlan.Material(plan.Material));
        if (plan.Material.Batch is { Length: > 0 } batch) yield return (Voice.Say("page.fact.batch"), batch);
        yield return (Voice.Say("page.fact.machine"), ShownPlan.Machine(plan.Machine));
        if (plan.Fixed.AirAssist is { } air) yield return (Voice.Say("page.fact.air"), Voice.Tell(air.ToFigure()));
        yield return (Voice.Say("page.fact.grid"), Voice.Say(
            "page.fact.grid-value", ("cells", plan.Cells.Count), ("columns", Span(plan.Columns)), ("rows", Span(plan.Rows))));
    }

    private static Phrase Span(Axis axis)
    {
        (double low, double high) = (axis.Values.Min(), axis.Values.Max());
        List<(string, Figure)> values = [("name", ShownSetting.Name(axis.Setting)), ("high", SettingNumber.Of(axis.Setting, high))];
        if (low != high) values.Add(("low", SettingNumber.Of(axis.Setting, low)));
        return new("page.setting.range", values);
    }
}
