using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>The newest setting for every goal on every machine, material and thickness.</summary>
internal static class SettingsPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/settings";

    public static string Write(HttpContext context, Outcome<ValueList<BestSetting>> best) => Shell.Write(
        context, Voice.Say("web.way", ("to", "settings")),
        new XElement("h1", Voice.Say("web.way", ("to", "settings"))),
        QueryForm.Write(Path, context.Request.Query, hasDays: false),
        new XElement("div", new XAttribute("id", "found"), new XAttribute("aria-live", "polite"), Found(best)),
        Html.Paragraph(Html.Class("promise"), Voice.Say("terminal.best-caution")));

    /// <summary>What was found.</summary>
    public static XElement Found(Outcome<ValueList<BestSetting>> best)
    {
        if (best.IsRefused) return RefusalPart.Write(best.Refusal!);
        return best.Value.Count == 0
            ? Html.Paragraph(Html.Class("lead"), Voice.Say("terminal.best-none"))
            : new XElement("ul", Html.Class("entries"), best.Value.Select(Item));
    }

    /// <summary>A setting with everything that backs it.</summary>
    public static XElement Item(BestSetting best) => new(
        "li",
        new XElement("p", Html.Class("about"), new XElement("strong", EntryParts.Material(best.Card)), " ", best.Card.Machine),
        new XElement("p", Html.Class("big"), EntryParts.Setting(best.Recommendation)),
        Html.Paragraph(EntryParts.Goal(best.Recommendation)),
        best.Readings > 1 ? Html.Paragraph(Html.Class("doubt"), Voice.Say("web.entry.others",
            ("count", best.Readings - 1), ("speeds", Range(best.SpeedMmPerMin, Speed)),
            ("powers", Range(best.PowerPercent, Power)))) : null,
        new XElement("p", Html.Class("about"),
            new XElement("a", new XAttribute("href", ReadingPage.PathOf(best.ReadingName)), Voice.Say("web.entry.from", Known(
                ("card", best.Card.Number), ("day", EntryParts.Day(best.ReadUtc)), ("batch", Figures.Text(best.Card.Batch)))))));

    private static Figure Range((double Low, double High) range, Func<double, Number> figure) => range.Low == range.High
        ? figure(range.Low)
        : new Phrase("terminal.range", ("low", figure(range.Low)), ("high", figure(range.High)));
}
