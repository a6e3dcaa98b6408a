using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>The newest setting for every goal on every machine, material and thickness.</summary>
internal static class SettingsPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/settings";

    /// <summary>Where names are brought together.</summary>
    public const string JoinPath = $"{Path}/names";

    private static readonly string[] Cautions = ["beam", "fire", "fumes", "rules"];

    /// <summary>The page; printed, it says what whoever burns must mind and of which day it is.</summary>
    public static string Write(HttpContext context, Outcome<SettingsBook> book, DateTimeOffset today) => Shell.Write(
        context, Voice.Say("web.way", ("to", "settings")),
        new XElement("h1", Voice.Say("web.way", ("to", "settings"))),
        QueryForm.Write(Path, context.Request.Query, hasDays: false),
        new XElement("div", new XAttribute("id", "found"), new XAttribute("aria-live", "polite"), Found(book)),
        Html.Paragraph(Html.Class("promise"), Voice.Say("book.caution")),
        Html.Paragraph(Html.Class("on-paper"), Voice.Say("book.sheet.validity", ("day", EntryParts.Day(today)))),
        new XElement("ul", Html.Class("on-paper"), Cautions.Select(which =>
            new XElement("li", Voice.Say("book.sheet.caution", ("which", which))))));

    /// <summary>What was found.</summary>
    public static XElement Found(Outcome<SettingsBook> book) => book.IsRefused
        ? RefusalPart.Write(book.Refusal!)
        : new("div", book.Value.Notes.SelectMany(Note),
            new XElement("div", new XAttribute("id", "joined"), new XAttribute("role", "status")), List(book.Value.Settings));

    /// <summary>A note; names that are likely one are brought together by a button.</summary>
    private static IEnumerable<XElement> Note(BookNote note)
    {
        yield return Html.Paragraph(Html.Class("lead"), note.Text);
        if (note.Alike is not { } alike) yield break;
        yield return Field.Button(
            JoinPath, "joined", Voice.Say("web.query.join", ("usual", alike.Usual)), "button",
            Field.Hidden("kind", EnumName.Of(alike.Kind)), Field.Hidden("old", alike.Name), Field.Hidden("new", alike.Usual))
            .For(MemberRole.Keep);
    }

    /// <summary>Settings, a part for each material and machine; null where there are none.</summary>
    public static XElement? List(IEnumerable<KeptSetting> settings)
    {
        XElement[] parts = [.. settings.GroupBy(each => Voice.Tell(each.Heading())).Select(machine => Part(machine.Key, [.. machine]))];
        return parts.Length == 0 ? null : new("ul", Html.Class("entries"), parts);
    }

    private static XElement Part(string heading, KeptSetting[] settings) => new(
        "li",
        new XElement("p", Html.Class("about"), new XElement("strong", heading)),
        EntryParts.Hazards(settings[0].Card),
        settings.SelectMany(Setting));

    /// <summary>A setting with everything that backs it and what speaks against it.</summary>
    private static IEnumerable<XElement> Setting(KeptSetting setting)
    {
        yield return Html.Paragraph(Html.Class(setting.IsSetting ? "big" : "doubt"), Voice.Tell(setting.GoalFigure()));
        yield return Html.Paragraph(Voice.Tell(setting.SureFigure()));
        foreach (OtherCard other in setting.Against) yield return Html.Paragraph(Html.Class("doubt"), Voice.Tell(other.ToFigure()));
        if (setting.Bridges is { } bridges) yield return Html.Paragraph(bridges.Message);
        yield return new(
            "p", Html.Class("about"),
            new XElement("a", new XAttribute("href", ReadingPage.PathOf(setting.ReadingName)), Voice.Tell(setting.FromFigure())),
            " ", Voice.Tell(setting.ConfirmedFigure()),
            setting.NextStep() is { } next ? $" {Voice.Tell(next)}" : null);
    }
}
