using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The setting to use now, and what came of each pair: first on the page, and large.</summary>
internal static class PairSection
{
    private const double SmallestProbability = 0.001, LargestProbability = 0.999;

    public static XElement Write(Comparison comparison, ValueList<Reading> readings) => Html.Section(
        "verdict", Voice.Say("page.compare.verdict-title"),
        new XElement("div", Html.Class("settings"), comparison.Pairs.Select((pair, i) => Panel(comparison, pair, readings[0], i == 0))),
        Html.Paragraph(Html.Class("promise"), Voice.Say("page.compare.meaning")));

    private static XElement Panel(Comparison comparison, ComparedPair pair, Reading first, bool isFirst) => new(
        "article",
        Html.Class(isFirst ? "setting first" : "setting"),
        new XElement("h3", pair.Other),
        pair.Answer is { } answer ? Answer(answer) : null,
        pair.Notes.Count == 0
            ? null
            : new XElement("ul", Html.Class("advice"), pair.Notes.Select(note => new XElement("li", note.Message))),
        Difference(comparison, pair, first));

    private static IEnumerable<XElement> Answer(BatchAnswer answer) =>
        [Html.Paragraph(Html.Class("answer"), answer.Lead), .. answer.Why.Length == 0 ? [] : (XElement[])[Html.Paragraph(answer.Why)]];

    /// <summary>How the two cards differ, apart from the setting that is answered: a difference need not change it.</summary>
    private static XElement Difference(Comparison comparison, ComparedPair pair, Reading first) => new(
        "div",
        Html.Class("difference"),
        new XElement("h4", Voice.Say("page.compare.verdict", ("reference", pair.Reference), ("verdict", $"{pair.Verdict}"))),
        pair.RelativeDose is { } dose ? Figures(dose, pair.Reference) : null,
        Html.Paragraph(pair.Summary),
        Statistics([.. Facts(comparison, pair, first)]));

    private static XElement? Statistics((string Name, string Value)[] facts) => facts.Length == 0 ? null : new(
        "details", new XElement("summary", Voice.Say("page.compare.statistics")), Html.Facts(facts));

    private static XElement Figures(RelativeDose dose, string reference) => Html.Paragraph(
        Html.Class("figures"),
        Html.Sentence(
            "page.compare.energy", [("ratio", Html.Large(In(Unit.Factor, dose.Value)))],
            ("reference", reference), ("low", In(Unit.Factor, dose.Low)), ("high", In(Unit.Factor, dose.High))));

    private static IEnumerable<(string Name, string Value)> Facts(Comparison comparison, ComparedPair pair, Reading first)
    {
        if (pair.Change is { } change) yield return Change(first, change, pair.Reference);
        if (pair.Equivalence is { } equivalence) yield return Equal(comparison, pair, equivalence);
        if (pair.Shape is { } shape)
            yield return (Voice.Say("page.compare.shape"), Shape(shape, hasOwnStrength: pair.RelativeDose?.StrengthRatio is not null));
        if (pair.RelativeDose?.SpeedExponent is { } exponent)
        {
            yield return (
                Voice.Say("page.compare.exponent"), Voice.Say("page.compare.exponent-value", ("exponent", In(Unit.Contrast, exponent))));
        }

        if (pair.RelativeDose?.StrengthRatio is { } ratio)
        {
            yield return (
                Voice.Say("page.compare.strength"),
                Voice.Say("page.compare.strength-value", ("ratio", Share(ratio)), ("reference", pair.Reference)));
        }

        if (pair.Cells.All(cell => cell.IsDifferent is null)) yield break;
        int differing = pair.Cells.Count(cell => cell.IsDifferent == true);
        yield return (
            Voice.Say("page.compare.differing"),
            Voice.Say("page.compare.differing-value", ("differing", differing), ("cells", pair.Cells.Count)));
    }

    private static (string, string) Change(Reading first, SettingChange change, string reference)
    {
        Recommendation recommended = first.Recommendations.FirstOrDefault(each => each.Goal == change.Goal)
            ?? new() { Goal = change.Goal, PowerPercent = change.FromPowerPercent, SpeedMmPerMin = change.FromSpeedMmPerMin, Reason = "" };
        SettingFigure setting = ShownSetting.Of(first, recommended);
        return (
            Voice.Say("page.compare.change", ("goal", GoalName.Of(recommended, first)), ("reference", reference)),
            Voice.Say(
                "page.compare.change-value",
                ("from", setting with { SpeedMmPerMin = change.FromSpeedMmPerMin, PowerPercent = change.FromPowerPercent }),
                ("to", setting with { SpeedMmPerMin = change.ToSpeedMmPerMin, PowerPercent = change.ToPowerPercent })));
    }

    private static (string, string) Equal(Comparison comparison, ComparedPair pair, EquivalenceTest equivalence)
    {
        string answer = equivalence.IsEquivalent ? "yes" : pair.Verdict == PairVerdict.Different ? "no" : "not-shown";
        return (
            Voice.Say("page.compare.equal"),
            Voice.Say(
                "page.compare.equal-value",
                ("answer", answer), ("margin", In(Unit.Percent, comparison.MarginPercent)),
                ("low", In(Unit.Factor, equivalence.Low)), ("high", In(Unit.Factor, equivalence.High)),
                ("level", Share(1 - 2 * equivalence.Level)), ("p", Probability(equivalence.Probability))));
    }

    private static string Shape(ShapeTest shape, bool hasOwnStrength)
    {
        string answer = !shape.AreAlike ? "no" : hasOwnStrength ? "own" : shape.Probability < shape.Level ? "nearly" : "yes";
        List<(string, Figure)> values =
        [
            ("answer", answer), ("degrees", shape.DegreesOfFreedom), ("statistic", In(Unit.Contrast, shape.Statistic)),
            ("p", Probability(shape.Probability)), ("test", shape.ResidualDegreesOfFreedom is null ? "chi" : "f"),
        ];
        if (shape.ResidualDegreesOfFreedom is { } rest) values.Add(("rest", rest));
        return Voice.Say("page.compare.shape-value", values);
    }

    private static Phrase Probability(double p) => new(
        "page.compare.p",
        ("size", p switch { < SmallestProbability => "below", > LargestProbability => "above", _ => "equal" }),
        ("p", Numbers.Fixed(Math.Clamp(p, SmallestProbability, LargestProbability), 3)));
}
