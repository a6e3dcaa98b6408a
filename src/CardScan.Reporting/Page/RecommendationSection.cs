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

        return Html.Section(
            "recommendation", reading.Recommendations.Count == 1 ? "Recommended setting" : "Recommended settings",
            new XElement("div", Html.Class("settings"), reading.Recommendations.Select((recommendation, index) => Panel(reading, recommendation, index))),
            Html.Paragraph(Html.Class("promise"), PromiseWords));
    }

    private static XElement Panel(Reading reading, Recommendation recommendation, int index) => new(
        "article",
        Html.Class(index == 0 ? "setting first" : "setting"),
        new XElement("h3", new XElement("span", Html.Class("badge"), (index + 1).ToString(CultureInfo.InvariantCulture)), " ", GoalWords.Name(recommendation.Goal)),
        Html.Paragraph(
            Html.Class("figures"),
            Figure(recommendation.SpeedMmPerMin, "mm/min"), " ", new XElement("span", Html.Class("at"), "at"), " ",
            Figure(recommendation.PowerPercent, "% power")),
        Html.Paragraph(Html.Class("others"), Others(reading, recommendation)),
        Html.Paragraph(Sentence.Stopped(recommendation.Reason)),
        Html.Facts(Facts(reading, recommendation)),
        GoalWords.Meaning(recommendation.Goal) is { Length: > 0 } meaning ? Html.Paragraph(Html.Class("meaning"), meaning) : null);

    private static XElement Figure(double value, string unit) => new(
        "span", Html.Class("figure"), new XElement("strong", Numbers.Chosen(value)), $"\u00a0{unit}");

    private static string Others(Reading reading, Recommendation recommendation)
    {
        CellSettings? settings = CellOf(reading, recommendation)?.Settings
            ?? (reading.Plan.Cells.Count > 0 ? reading.Plan.SettingsOf(reading.Plan.Cells[0]) : null);
        return settings is null ? "" : $"With {SettingWords.Others(reading.Plan, settings)}.";
    }

    private static IEnumerable<(string Name, string Value)> Facts(Reading reading, Recommendation recommendation)
    {
        if (recommendation.Confidence is double p)
            yield return ("Confidence", $"{Sentence.Capital(GoalWords.Confidence(p))}: {Numbers.Percent(p)} under the fitted model");
        if (recommendation.Interval is { } interval)
        {
            (string name, string values) = GoalWords.Interval(interval);
            yield return (Sentence.Capital(name), $"{values}, 95 % interval");
        }

        yield return ("Burned", Burned(reading, recommendation));
    }

    private static string Burned(Reading reading, Recommendation recommendation)
    {
        if (recommendation.Cell is not { } at) return "Not on this card: no cell was burned at or near this setting";
        string place = GridCells.Place(at.Row, at.Column);
        if (CellOf(reading, recommendation) is not { } cell) return $"Backed by the cell in {place}";
        bool isTheSetting = cell.Settings.PowerPercent == recommendation.PowerPercent && cell.Settings.SpeedMmPerMin == recommendation.SpeedMmPerMin;
        string settings = $"{SettingWords.WithUnit(Setting.PowerPercent, cell.Settings.PowerPercent)}, {SettingWords.WithUnit(Setting.SpeedMmPerMin, cell.Settings.SpeedMmPerMin)}";
        return isTheSetting
            ? $"Yes: the cell in {place}"
            : $"Not yet: it lies between burned cells; the cell in {place} ({settings}) backs it best";
    }

    private static CellReading? CellOf(Reading reading, Recommendation recommendation) =>
        recommendation.Cell is { } at ? reading.Cells.FirstOrDefault(cell => cell.Row == at.Row && cell.Column == at.Column) : null;
}
