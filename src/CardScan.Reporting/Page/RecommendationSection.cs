using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What to set the machine to: first on the page, and large.</summary>
internal static class RecommendationSection
{
    private const string PromiseWords =
        "A measured suggestion, not a promise: try it on a scrap of the same batch, stay with the machine, and let its manual, the material's data sheet and local rules come first.";

    public static XElement Write(Reading reading)
    {
        if (reading.Recommendations.Count == 0)
        {
            return Html.Section(
                "recommendation", "No setting recommended",
                Html.Paragraph(Html.Class("lead"), reading.Advice.Count > 0
                    ? "This card does not support a recommendation. What it does tell is said below."
                    : "This reading holds no recommendation and gives no reason."));
        }

        ValueList<NumberedSetting> settings = NumberedSetting.Of(reading);
        return Html.Section(
            "recommendation", settings.Count == 1 ? "Recommended setting" : "Recommended settings",
            new XElement("div", Html.Class("settings"), settings.Select(setting => Panel(reading, setting))),
            Html.Paragraph(Html.Class("promise"), PromiseWords));
    }

    private static XElement Panel(Reading reading, NumberedSetting setting) => new(
        "article",
        Html.Class(setting.Number == 1 ? "setting first" : "setting"),
        new XElement("h3", new XElement("span", Html.Class("badge"), setting.Number.ToString(CultureInfo.InvariantCulture)), " ", setting.Name(reading)),
        Html.Paragraph(
            Html.Class("figures"),
            Figure(setting.First.SpeedMmPerMin, "mm/min"), " ", new XElement("span", Html.Class("at"), "at"), " ",
            Figure(setting.First.PowerPercent, "% power")),
        Html.Paragraph(Html.Class("others"), Others(reading, setting.First)),
        setting.Goals.Select(goal => Sentence.Stopped(goal.Reason)).Distinct(StringComparer.Ordinal).Select(reason => Html.Paragraph(reason)),
        Html.Facts(Facts(reading, setting)),
        setting.Goals.Select(goal => goal.Unburned).OfType<UnburnedSetting>().Distinct().Select(Unburned),
        setting.Goals.Select(goal => GoalWords.Meaning(goal, reading)).Where(meaning => meaning.Length > 0).Select(meaning => Html.Paragraph(Html.Class("meaning"), meaning)));

    /// <summary>Kept apart from the setting itself, so that nobody takes it for one that was tried.</summary>
    private static XElement Unburned(UnburnedSetting unburned) => Html.Paragraph(
        Html.Class("unburned"),
        new XElement("strong", $"Not tested yet: {Numbers.Chosen(unburned.SpeedMmPerMin)} mm/min at {Numbers.Chosen(unburned.PowerPercent)} %"),
        $", {GoalWords.Confidence(unburned.Confidence)} ({Numbers.Percent(unburned.Confidence)} under the fitted model). {Sentence.Stopped(unburned.Reason)}");

    private static XElement Figure(double value, string unit) => new(
        "span", Html.Class("figure"), new XElement("strong", Numbers.Chosen(value)), $"\u00a0{unit}");

    private static string Others(Reading reading, Recommendation recommendation)
    {
        CellSettings? settings = reading.CellOf(recommendation)?.Settings
            ?? (reading.Plan.Cells.Count > 0 ? reading.Plan.SettingsOf(reading.Plan.Cells[0]) : null);
        return settings is null ? "" : $"With {SettingWords.Others(reading.Plan, settings)}{(recommendation.Card is { } card ? $", as burned on card {card}" : "")}.";
    }

    /// <summary>The facts of all its goals: once where they agree, under the goal's name where they do not.</summary>
    private static IEnumerable<(string Name, string Value)> Facts(Reading reading, NumberedSetting setting)
    {
        var facts = setting.Goals.SelectMany(goal => Facts(goal).Select(fact => (Goal: goal, fact.Name, fact.Value))).DistinctBy(fact => (fact.Name, fact.Value)).ToList();
        foreach ((Recommendation goal, string name, string value) in facts)
            yield return (facts.Count(fact => fact.Name == name) == 1 ? name : $"{name} ({Sentence.Small(GoalWords.Name(goal, reading))})", value);
        yield return ("Burned", Burned(reading, setting.First));
    }

    private static IEnumerable<(string Name, string Value)> Facts(Recommendation recommendation)
    {
        if (recommendation.Confidence is double p)
            yield return ("Confidence", $"{Sentence.Capital(GoalWords.Confidence(p))}: {Numbers.Percent(p)} under the fitted model");
        if (recommendation.Interval is { } interval)
        {
            (string name, string values) = GoalWords.Interval(interval);
            yield return (Sentence.Capital(name), $"{values}, 95 % interval");
        }
    }

    private static string Burned(Reading reading, Recommendation recommendation)
    {
        if (recommendation.Cell is null) return "Not on this card: no cell was burned at or near this setting";
        string place = GridCells.Place(recommendation);
        if (reading.CellOf(recommendation) is not { } cell) return $"Backed by the cell in {place}";
        bool isTheSetting = cell.Settings.PowerPercent == recommendation.PowerPercent && cell.Settings.SpeedMmPerMin == recommendation.SpeedMmPerMin;
        string settings = $"{SettingWords.WithUnit(Setting.PowerPercent, cell.Settings.PowerPercent)}, {SettingWords.WithUnit(Setting.SpeedMmPerMin, cell.Settings.SpeedMmPerMin)}";
        return isTheSetting
            ? recommendation.Card is { } card ? $"Yes, on card {card}: the cell in {GridCells.Place(cell.Row, cell.Column)} there" : $"Yes: the cell in {place}"
            : $"Not yet: it lies between burned cells; the cell in {place} ({settings}) backs it best";
    }
}
