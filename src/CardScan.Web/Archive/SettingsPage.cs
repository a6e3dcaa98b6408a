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
            : List(best.Value);
    }

    /// <summary>Settings, each once for all of its goals.</summary>
    public static XElement List(IEnumerable<BestSetting> settings) => new("ul", Html.Class("entries"), settings
        .GroupBy(each => (each.ReadingId, EntryParts.Setting(each.Recommendation))).Select(same => Item([.. same])));

    /// <summary>A setting with everything that backs it.</summary>
    private static XElement Item(BestSetting[] goals)
    {
        BestSetting best = goals[0];
        return new(
            "li",
            new XElement("p", Html.Class("about"), new XElement("strong", EntryParts.Material(best.Card)), " ", best.Card.Machine),
            EntryParts.Hazards(best.Card),
            new XElement("p", Html.Class("big"), EntryParts.Setting(best.Recommendation)),
            goals.Select(goal => Html.Paragraph(EntryParts.Goal(goal.Recommendation))),
            goals.Select(Others).OfType<string>().Distinct(StringComparer.Ordinal)
                .Select(others => Html.Paragraph(Html.Class("about"), others)),
            new XElement("p", Html.Class("about"),
                new XElement("a", new XAttribute("href", ReadingPage.PathOf(best.ReadingName)), Voice.Say("web.entry.from", Known(
                    ("card", best.Card.Number), ("day", EntryParts.Day(best.ReadUtc)), ("batch", Figures.Text(best.Card.Batch)))))));
    }

    /// <summary>What other readings say; null where there are none.</summary>
    private static string? Others(BestSetting best) => best.Readings == 1 ? null : Voice.Say("web.entry.others",
        ("count", best.Readings), ("speeds", best.Speeds()), ("powers", best.Powers()));
}
