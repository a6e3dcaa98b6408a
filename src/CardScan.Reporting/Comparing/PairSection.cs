using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What came of each pair, and what to change: first on the page, and large.</summary>
internal static class PairSection
{
    public static XElement Write(Comparison comparison, ValueList<Reading> readings) => Html.Section(
        "verdict", "What to change",
        new XElement("div", Html.Class("settings"), comparison.Pairs.Select((pair, i) => Panel(comparison, pair, readings[0], i == 0))),
        Html.Paragraph(
            Html.Class("promise"),
            "The intervals say how well these cards are known: one piece of each delivery, one day. How much a delivery varies from sheet to sheet they do not say; two cards of one delivery, compared, do. A changed setting makes the same mark as the old one did; the new card's own reading may name another. Try it on a scrap first."));

    private static XElement Panel(Comparison comparison, ComparedPair pair, Reading first, bool isFirst) => new(
        "article",
        Html.Class(isFirst ? "setting first" : "setting"),
        new XElement("h3", $"{pair.Other}: {Verdict(pair.Verdict)}"),
        pair.RelativeDose is { } dose ? Figures(dose, pair.Reference) : null,
        Html.Paragraph(pair.Summary),
        Html.Facts(Facts(comparison, pair, first)),
        pair.Notes.Count == 0 ? null : new XElement("ul", Html.Class("advice"), pair.Notes.Select(note => new XElement("li", Sentence.Stopped(Sentence.Capital(note.Message))))));

    private static string Verdict(PairVerdict verdict) => verdict switch
    {
        PairVerdict.Equal => "equal within the margin",
        PairVerdict.Different => "needs another setting",
        PairVerdict.OtherShape => "another curve",
        _ => "not enough to tell",
    };

    private static XElement Figures(RelativeDose dose, string reference) => Html.Paragraph(
        Html.Class("figures"),
        new XElement("span", Html.Class("figure"), new XElement("strong", Numbers.Fixed(dose.Value, 2)), "×"), " ",
        new XElement("span", Html.Class("at"), $"the energy of {reference}, between {Numbers.Fixed(dose.Low, 2)} and {Numbers.Fixed(dose.High, 2)} (95\u00a0% interval)"));

    private static IEnumerable<(string Name, string Value)> Facts(Comparison comparison, ComparedPair pair, Reading first)
    {
        if (pair.Change is { } change)
            yield return ($"{Sentence.Capital(GoalWords.Name(Recommended(first, change), first))} of {pair.Reference}", $"{Setting(change.FromSpeedMmPerMin, change.FromPowerPercent)} becomes {Setting(change.ToSpeedMmPerMin, change.ToPowerPercent)}");
        if (pair.Equivalence is { } equivalence)
        {
            yield return (
                $"Equal within {Numbers.Chosen(comparison.MarginPercent)}\u00a0%?",
                $"{(equivalence.IsEquivalent ? "Yes" : pair.Verdict == PairVerdict.Different ? "No" : "Not shown")}: {Numbers.Fixed(equivalence.Low, 2)} to {Numbers.Fixed(equivalence.High, 2)} ({Numbers.Chosen(100 * (1 - 2 * equivalence.Level))}\u00a0% interval, two one-sided tests, {Probability(equivalence.Probability)})");
        }

        if (pair.Shape is { } shape) yield return ("Same shape of curve?", $"{(shape.AreAlike ? "Yes" : "No")}: {Statistic(shape)}, {Probability(shape.Probability)}");
        if (pair.RelativeDose?.SpeedExponent is { } exponent) yield return ("Exponent of speed", $"{Numbers.Fixed(exponent, 2)} (1 where only energy counts)");
        if (pair.RelativeDose?.StrengthRatio is { } ratio) yield return ("Strongest mark", $"{Numbers.Percent(ratio)} of {pair.Reference}'s");
        int differing = pair.Cells.Count(cell => cell.IsDifferent == true);
        if (pair.Cells.Any(cell => cell.IsDifferent is not null)) yield return ("Cells that differ", $"{differing} of {pair.Cells.Count}, by more than chance");
    }

    private static Recommendation Recommended(Reading first, SettingChange change) =>
        first.Recommendations.FirstOrDefault(each => each.Goal == change.Goal)
        ?? new() { Goal = change.Goal, PowerPercent = change.FromPowerPercent, SpeedMmPerMin = change.FromSpeedMmPerMin, Reason = "" };

    private static string Setting(double speedMmPerMin, double powerPercent) =>
        $"{SettingWords.WithUnit(Model.Setting.SpeedMmPerMin, speedMmPerMin)} at {SettingWords.WithUnit(Model.Setting.PowerPercent, powerPercent)}";

    private static string Statistic(ShapeTest shape) => shape.ResidualDegreesOfFreedom is { } rest
        ? $"F({shape.DegreesOfFreedom}, {rest}) = {Numbers.Fixed(shape.Statistic, 2)}"
        : $"χ²(1) = {Numbers.Fixed(shape.Statistic, 2)}, the largest of {shape.DegreesOfFreedom}";

    private static string Probability(double p) => p switch
    {
        < 0.001 => "p < 0.001",
        > 0.999 => "p > 0.999",
        _ => $"p = {Numbers.Fixed(p, 3)}",
    };
}
