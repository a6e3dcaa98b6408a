using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Which card this is, whether its reading can be used, and what speaks against burning its material.</summary>
internal static class TitleSection
{
    public static XElement Write(Reading reading)
    {
        Plan plan = reading.Plan;
        return new(
            "header",
            Html.Paragraph(Html.Class("eyebrow"), Voice.Say("page.eyebrow", ("number", plan.Number), ("process", ShownPlan.Process(plan)))),
            new XElement("h1", plan.Title.Length > 0 ? plan.Title : ShownPlan.Number(plan)),
            Html.Facts(Facts(plan)),
            Judged(reading, isBrief: reading.Recommendations.Count == 0 && Judgement.Of(reading).Advice is not null),
            ShownPlan.ScoredTogether(reading) is { } together ? Html.Paragraph(Html.Class("together"), together) : null);
    }

    /// <summary>
    /// Whether a reading can be used, then what speaks against burning its material. The judgement tells itself by its words; its
    /// colour only repeats them.
    /// </summary>
    /// <param name="reading">The reading.</param>
    /// <param name="isBrief">
    /// True to leave out why, unless burning the material is what speaks against it: where advice is all that the page has, it
    /// stands large in a section of its own.
    /// </param>
    public static IEnumerable<XElement> Judged(Reading reading, bool isBrief = false)
    {
        Judgement judgement = Judgement.Of(reading);
        bool tellsWhy = judgement.Detail.Length > 0 && (!isBrief || judgement.Advice is { IsAgainstBurning: true });
        yield return Html.Paragraph(
            Html.Class(judgement.Usability is Usability.AsItIs or Usability.GreyStrip ? "judgement" : "judgement doubtful"),
            new XElement("strong", judgement.Lead), tellsWhy ? $" {judgement.Detail}" : null);
        foreach (Advice advice in reading.Advice.Where(advice => advice.IsAgainstBurning && !ReferenceEquals(advice, judgement.Advice)))
            yield return Html.Paragraph(Html.Class("judgement doubtful"), advice.Message);
    }

    private static IEnumerable<(string Name, string Value)> Facts(Plan plan)
    {
        yield return (Voice.Say("page.fact.material"), ShownPlan.Material(plan.Material));
        if (plan.Material.Batch is { Length: > 0 } batch) yield return (Voice.Say("page.fact.batch"), batch);
        yield return (Voice.Say("page.fact.machine"), ShownPlan.MachineOf(plan));
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
