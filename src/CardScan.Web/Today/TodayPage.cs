using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What to do next, the latest settings, and the three ways to begin.</summary>
internal static class TodayPage
{
    /// <summary>Where what may change is fetched again.</summary>
    public const string ListPath = "/today";

    /// <summary>Where a backup is noted.</summary>
    public const string BackedUpPath = "/backed-up";

    /// <summary>A card with this tag is burned, whoever says so.</summary>
    public const string BurnedTag = "burned";

    private const int MostLookedAt = 40, MostTasks = 6, MostSettings = 6;

    private static readonly string[] StepNames = ["make", "burn", "photograph"];

    private static readonly (string Path, string Name)[] Others =
        [("/phones", "phones"), ("/compare", "compare"), ("/machines", "machines")];

    private static readonly (string Path, string Name)[] Ways =
        [("/cards/new", "make"), ("/photograph", "photograph"), ("/settings", "settings")];

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.way", ("to", "today")),
        new XElement("h1", Voice.Say("web.way", ("to", "today"))),
        LivePart.Write(ListPath, [Topic.Archive], List(context, shop)),
        DoorKeeper.GuestOf(context).IsComputer
            ? Html.Paragraph(Html.Class("ways small"), Others.Select(way =>
                new XElement("a", Html.Class("button"), new XAttribute("href", way.Path), Voice.Say("web.way", ("to", way.Name)))))
            : null);

    /// <summary>What is open, the ways to begin, the latest settings; where there is nothing yet, the three steps.</summary>
    public static XElement List(HttpContext context, Workshop shop)
    {
        Outcome<FoundCards> found = shop.Cards.Take(new() { Most = MostLookedAt });
        if (found.IsRefused) return LivePart.Content(RefusalPart.Write(found.Refusal!));
        if (found.Value.Count == 0) return LivePart.Content(Steps(), shop.DemoFolder is null ? null : DemoCard(), Begin());
        XElement[] tasks = [.. found.Value.Cards.Where(card => card.ClosedUtc is null && !card.IsPrinted)
            .Select(card => Task(shop, card)).OfType<XElement>().Take(MostTasks)];
        Outcome<SettingsBook> book = shop.Settings.Take(new());
        return LivePart.Content(
            Reminder(context, shop),
            tasks.Length == 0
                ? Html.Paragraph(Html.Class("lead"), Voice.Say("web.today.nothing"))
                : new XElement("ul", Html.Class("tasks"), tasks),
            Begin(),
            book is { IsRefused: false, Value.Settings.Count: > 0 }
                ? Html.Section("latest", Voice.Say("web.today.latest"),
                    SettingsPage.List(book.Value.Settings.Take(MostSettings)))
                : null);
    }

    private static XElement Begin() => new("div", Html.Class("ways"), Ways.Select(way => new XElement(
        "a", Html.Class("button large"), new XAttribute("href", way.Path), Voice.Say("web.way", ("to", way.Name)))
        .For(way.Name == "settings" ? MemberRole.Look : MemberRole.Add)));

    /// <summary>What many people made would be lost with one disk: those who keep the workshop are reminded of a backup.</summary>
    private static XElement? Reminder(HttpContext context, Workshop shop)
    {
        if (shop.Page is null || !DoorKeeper.GuestOf(context).May(MemberRole.Keep)) return null;
        (bool isDue, Deed? last) = shop.Archive.Members.Backup();
        return !isDue ? null : new(
            "div", Html.Class("judgement doubtful"),
            Html.Paragraph(Voice.Say("web.backup.due", Known(("day", Figures.Text(last is null ? null : EntryParts.Day(last.Done)))))),
            Field.Button(BackedUpPath, null, Voice.Say("web.backup.done"), "button"));
    }

    /// <summary>The one thing to do about a card; null where nothing is.</summary>
    private static XElement? Task(Workshop shop, CardEntry card)
    {
        if (card.NewestReadingId is not { } id)
        {
            bool isBurned = card.Tags.Contains(BurnedTag);
            return Item(
                card, null, Voice.Say("web.today.task", ("state", isBurned ? "burned" : "planned"), ("card", EntryParts.Name(card))),
                isBurned ? "/photograph" : EntryParts.PathOf(card), isBurned ? "photograph" : "burn");
        }

        Judgement? judgement = shop.Readings.JudgementOf(ReadingEntry.NameOf(id));
        return judgement is null or { Usability: Usability.AsItIs } ? null : Item(
            card, judgement.Detail, Voice.Say("web.today.doubt", ("card", EntryParts.Name(card)), ("lead", judgement.Lead)),
            ReadingPage.PathOf(ReadingEntry.NameOf(id)), "look");
    }

    private static XElement Item(CardEntry card, string? detail, string words, string path, string what) => new(
        "li",
        new XElement("div", new XElement("p", words), string.IsNullOrEmpty(detail) ? null : Html.Paragraph(Html.Class("why"), detail)),
        new XElement("a", Html.Class("button"), new XAttribute("href", path), new XAttribute("aria-label",
            Voice.Say("web.today.do-for", ("what", what), ("card", EntryParts.Name(card)))), Voice.Say("web.today.do", ("what", what))));

    private static XElement DemoCard() => new(
        "div", Html.Class("demo"),
        new XElement("img", new XAttribute("src", DemoRoutes.PicturePath), new XAttribute("alt", Voice.Say("web.demo.picture"))),
        new XElement(
            "form", new XAttribute("method", "post"), new XAttribute("action", DemoRoutes.Path), new XAttribute("data-post", ""),
            Html.Paragraph(Voice.Say("web.demo.lead")), Html.Paragraph(Html.Class("hint"), Voice.Say("web.demo.what")),
            new XElement("button", Html.Class("first"), Voice.Say("web.demo.do"))));

    private static XElement Steps() => new(
        "div", Html.Paragraph(Html.Class("lead"), Voice.Say("web.today.empty")),
        new XElement("ol", Html.Class("steps-to-take"), StepNames.Select(step =>
            new XElement("li", Voice.Say("web.today.step", ("step", step))))));
}
