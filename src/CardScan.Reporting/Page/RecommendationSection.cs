using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What to set the machine to: first on the page, and large.</summary>
internal static class RecommendationSection
{
    public static XElement Write(Reading reading)
    {
        ValueList<NumberedSetting> settings = NumberedSetting.Of(reading);
        string title = Voice.Say("page.recommendation.title", ("settings", settings.Count));
        if (settings.Count == 0)
        {
            string why = Voice.Say("page.recommendation.none", ("advice", Is(reading.Advice.Any(advice => !advice.IsAgainstBurning))));
            return Html.Section("recommendation", title, Html.Paragraph(Html.Class("lead"), why));
        }

        return Html.Section(
            "recommendation", title,
            new XElement("div", Html.Class("settings"), settings.Select(setting => Panel(reading, setting))),
            Html.Paragraph(Html.Class("promise"), Voice.Say("page.recommendation.caution")));
    }

    /// <summary>The first setting with its name; null where there is none.</summary>
    public static XElement? First(Reading reading) => NumberedSetting.Of(reading) is [var setting, ..]
        ? new("div", Html.Class("setting first"), new XElement("h3", setting.Name(reading)), Large(reading, setting.First))
        : null;

    private static XElement Large(Reading reading, Recommendation setting) => Html.Paragraph(
        Html.Class("figures"), Html.Sentence("page.recommendation.figures",
            [("speed", Html.Large(Speed(setting.SpeedMmPerMin))), ("power", Html.Large(Power(setting.PowerPercent)))],
            ("passes", ShownSetting.PassesOf(reading, setting))));

    private static XElement Panel(Reading reading, NumberedSetting setting) => new(
        "article",
        Html.Class(setting.Number == 1 ? "setting first" : "setting"),
        new XElement(
            "h3",
            new XElement("span", Html.Class("badge"), setting.Number.ToString(CultureInfo.InvariantCulture)), " ", setting.Name(reading)),
        Large(reading, setting.First),
        Html.Paragraph(Html.Class("others"), ShownSetting.Others(reading, setting.First)),
        setting.Goals.Select((goal, i) => goal.ReasonBeside(setting.Goals.Take(i))).Distinct(StringComparer.Ordinal)
            .Select(reason => Html.Paragraph(reason)),
        CardEnd.Of(reading, setting.First) is { } end ? Html.Paragraph(end) : null,
        Html.Facts(Facts(reading, setting)),
        setting.Goals.Where(goal => goal.Unburned is not null).DistinctBy(goal => goal.Unburned)
            .Select(goal => Unburned(ShownSetting.Of(reading, goal), goal, goal.Unburned!)),
        setting.Goals.Select(goal => GoalName.MeaningOf(goal, reading)).Where(meaning => meaning.Length > 0)
            .Select(meaning => Html.Paragraph(Html.Class("meaning"), meaning)));

    /// <summary>Kept apart from the setting itself, so that nobody takes it for one that was tried.</summary>
    private static XElement Unburned(SettingFigure burned, Recommendation beside, UnburnedSetting unburned)
    {
        SettingFigure setting = burned with { SpeedMmPerMin = unburned.SpeedMmPerMin, PowerPercent = unburned.PowerPercent };
        return Html.Paragraph(
            Html.Class("unburned"),
            new XElement("strong", Voice.Say("page.recommendation.untested", ("setting", setting))), " ",
            Voice.Say("page.recommendation.untested-chance",
                Stated(Reading.BestEstimateOf(beside.Goal, unburned.Confidence, unburned.Interval), unburned.Confidence)), " ",
            unburned.Reason);
    }

    /// <summary>The facts of all its goals: once where they agree, under the goal's name where they do not.</summary>
    private static IEnumerable<(string Name, string Value)> Facts(Reading reading, NumberedSetting setting)
    {
        var facts = setting.Goals.SelectMany(goal => Facts(goal).Select(fact => (Goal: goal, fact.Name, fact.Value)))
            .DistinctBy(fact => (fact.Name, fact.Value)).ToList();
        foreach ((Recommendation goal, string name, string value) in facts)
        {
            bool isOne = facts.Count(fact => fact.Name == name) == 1;
            yield return (isOne ? name : Voice.Say("page.fact.of-goal", ("name", name), ("goal", GoalName.Of(goal, reading))), value);
        }

        yield return (Voice.Say("page.fact.tested"), Tested(reading, setting.First));
    }

    private static IEnumerable<(string Name, string Value)> Facts(Recommendation recommendation)
    {
        if (recommendation.Confidence is double p)
        {
            (string, Figure)[] values = Stated(Reading.BestEstimateOf(recommendation), p);
            yield return (Voice.Say("page.fact.confidence"), Voice.Say("page.fact.confidence-value", values));
        }


        if (recommendation.Interval is { } interval)
            yield return (ShownGoal.Name(interval), Voice.Say("page.fact.interval-value", ("value", ShownGoal.Value(interval))));
    }

    /// <summary>A likely cut is worded by its best estimate, with what can be counted on as the limit that it is.</summary>
    private static (string, Figure)[] Stated(double? best, double stated)
    {
        (string, Figure)[] values = [("chance", Share(stated)), ("likely", ShownGoal.Likely(best ?? stated))];
        return best is { } estimate ? [.. values, ("best", Share(estimate))] : values;
    }

    private static string Tested(Reading reading, Recommendation recommendation)
    {
        if (GridCells.Place(recommendation) is not { } place) return Tell("nowhere");
        if (reading.CellOf(recommendation) is not { } cell) return Tell("backed", ("place", place));
        bool isTheSetting =
            cell.Settings.PowerPercent == recommendation.PowerPercent && cell.Settings.SpeedMmPerMin == recommendation.SpeedMmPerMin;
        if (!isTheSetting) return Tell("between", ("place", place), ("setting", cell.Settings.ToFigure(reading.Plan)));
        return recommendation.Card is { } card
            ? Tell("earlier", ("card", card), ("place", GridCells.Place(cell.Row, cell.Column)))
            : Tell("here", ("place", place));

        static string Tell(string where, params (string, Figure)[] values) =>
            Voice.Say("page.fact.tested-value", [("where", where), .. values]);
    }
}
