using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>A card and all that hangs on it: what to do with it next, its files, its settings, its readings, notes and tags.</summary>
internal static class CardPage
{
    /// <summary>Id of the place that says what was refused.</summary>
    private const string Said = "said";

    /// <summary>Readings that are judged anew for the page: each is opened for it.</summary>
    private const int MostJudged = 6;

    /// <summary>Address of a card's page.</summary>
    public static string PathOf(long id) => $"/cards/{CardEntry.NameOf(id)}";

    public static string Write(HttpContext context, Workshop shop, KeptCardView kept, CardDownloads files)
    {
        PlanParts parts = new(files.Plan);
        string path = PathOf(kept.Card.Id);
        return Shell.Write(
            context, Voice.Say("page.title", ("number", files.Plan.Number)),
            parts.Title(),
            LivePart.Write($"{path}/state", [Topic.Archive], State(context, shop, kept)),
            new XElement("div", new XAttribute("id", Said), new XAttribute("role", "status")),
            LivePart.Write($"{path}/history", [Topic.Archive], History(context, shop, kept)),
            Words(path).For(MemberRole.Add),
            files.Planned is { } planned ? CardParts.Warnings(planned) : null,
            files.Plan.IsPrinted ? null : CardParts.Cautions(files.Cautions),
            Files(path, files),
            files.Plan.IsPrinted ? null : Html.Section("settings", Voice.Say("web.card.settings"), PlanParts.Steps(files.Steps)));
    }

    /// <summary>How far the card is, and what to do with it.</summary>
    public static XElement State(HttpContext context, Workshop shop, KeptCardView kept)
    {
        MemberRole change = LeastToChange(context, shop, kept);
        CardEntry card = kept.Card;
        string path = PathOf(card.Id);
        bool isBurned = card.Tags.Contains(TodayPage.BurnedTag), isRead = card.Readings > 0, isClosed = card.ClosedUtc is not null;
        string state = isClosed ? "closed" : card.IsPrinted ? "strip" : isRead ? "read" : isBurned ? "burned" : "planned";
        return LivePart.Content(
            Html.Paragraph(Html.Class("lead"), Voice.Say("web.card.state", ("state", state), ("readings", card.Readings))),
            new XElement("div", Html.Class("doing"),
                isClosed || isRead || card.IsPrinted ? null : isBurned
                    ? Field.Button($"{path}/burned-not", Said, Voice.Say("web.card.do", ("what", "burned-not")), "button").For(change)
                    : Field.Button($"{path}/burned", Said, Voice.Say("web.card.do", ("what", "burned")), "button first").For(change),
                isClosed ? null : new XElement("a", Html.Class(isBurned && !isRead ? "button first" : "button"),
                    new XAttribute("href", "/photograph"), Voice.Say("web.card.do", ("what", "photograph"))).For(MemberRole.Add),
                isClosed
                    ? Field.Button($"{path}/open", Said, Voice.Say("web.card.do", ("what", "open")), "button").For(change)
                    : Field.Button($"{path}/close", Said, Voice.Say("web.card.do", ("what", "close")), "button").For(change)),
            isClosed ? null : Html.Paragraph(Html.Class("hint"), Voice.Say("web.card.close-what")).For(change));
    }

    /// <summary>Readings, notes and tags.</summary>
    public static XElement History(HttpContext context, Workshop shop, KeptCardView kept)
    {
        MemberRole change = LeastToChange(context, shop, kept);
        string path = PathOf(kept.Card.Id);
        string[] tags = [.. kept.Card.Tags.Where(tag => tag != TodayPage.BurnedTag)];
        ReadingEntry[] readings = [.. kept.Readings.Where(reading => reading.IsCurrent)];
        return LivePart.Content(
            readings.Length == 0 ? null : Html.Section(
                "readings", Voice.Say("web.card.readings"),
                new XElement("ol", Html.Class("photos"), readings.Select((reading, i) => Item(shop, reading, i < MostJudged))),
                kept.Card.IsPrinted
                    ? null
                    : Field.Button($"{path}/next", Said, Voice.Say("web.card.next"), "button first").For(MemberRole.Add),
                kept.Card.IsPrinted ? null : Html.Paragraph(Html.Class("hint"), Voice.Say("web.card.next-what")).For(MemberRole.Add)),
            kept.Notes.Count == 0 && tags.Length == 0 ? null : Html.Section(
                "notes", Voice.Say("web.card.notes"),
                new XElement("ul", Html.Class("notes"), kept.Notes.Select(Note)),
                new XElement("ul", Html.Class("tags"), tags.Select(tag => new XElement(
                    "li", new XElement("span", tag),
                    Field.Button($"{path}/tags-off", Said, Voice.Say("web.card.tag-off", ("tag", tag)), "button",
                        Field.Hidden("tag", tag)).For(change))))),
            RecordPage.OfCard(shop, kept.Card.Id));
    }

    /// <summary>The role that it takes to change a card; for a member's own one it is enough that they may add.</summary>
    private static MemberRole LeastToChange(HttpContext context, Workshop shop, KeptCardView kept) =>
        shop.MayChange(context, kept.Card.Id) ? MemberRole.Look : MemberRole.Keep;

    /// <summary>Why the next card was not planned; of a dangerous material with the place for the words that accept it.</summary>
    public static XElement NextRefused(long id, Refusal refusal) => new(
        "div", RefusalPart.Write(refusal), refusal.Code is Codes.MaterialDangerous or Codes.RiskUnknown
            ? Form($"{PathOf(id)}/next", Voice.Say("web.card.next"), Field.Told("accept-risk"))
            : null);

    private static XElement Note(NoteEntry note) => new(
        "li", new XElement(
            "span", Html.Class("when"), Voice.Say("web.card.noted", ("on", note.On), ("time", EntryParts.Time(note.WrittenUtc)))),
        " ", new XElement("span", Html.Class("text"), note.Text));

    private static XElement Item(Workshop shop, ReadingEntry reading, bool isJudged)
    {
        Judgement? judgement = isJudged ? shop.Readings.JudgementOf(reading.Name) : null;
        RecommendationEntry? first = reading.Recommendations.Count > 0 ? reading.Recommendations[0] : null;
        return new(
            "li", Html.Class("photo"),
            new XElement("a", new XAttribute("href", ReadingPage.PathOf(reading.Name)),
                Voice.Say("web.card.reading",
                    ("name", reading.Name), ("time", EntryParts.Time(reading.ReadUtc)), ("photos", reading.Photos.Count))),
            first is null ? null : new XElement("p", new XElement("strong", EntryParts.Setting(first))),
            judgement is null ? null : Html.Paragraph(judgement.Words));
    }

    private static XElement Files(string path, CardDownloads files) => Html.Section(
        "files", Voice.Say("web.card.files"),
        new XElement("div", Html.Class("beside files"),
            files.Planned is { } planned ? XElement.Parse(planned.Drawing) : null,
            new XElement("div",
                files.Planned is { } told
                    ? new[] { told.Size, told.Burning, told.Axes, told.Start }.OfType<Phrase>()
                        .Select(line => Html.Paragraph(Voice.Tell(line)))
                    : null,
                new XElement(
                    "form", new XAttribute("method", "get"), new XAttribute("action", $"{path}/files.zip"),
                    new XElement("button", Html.Class("button first"), Voice.Say("web.card.zip")),
                    Field.Fold(
                        Voice.Say("web.card.zip-more"), false,
                        Field.Box("split-drawing", false, Voice.Say("option.split-drawing")), Field.Told("pointer-power"))),
                new XElement("ul", Html.Class("download"), files.Names.Select(name => new XElement(
                    "li", new XElement("a", new XAttribute("href", $"{path}/files/{name}"), name), " ",
                    new XElement("span", Html.Class("hint"), Voice.Say("web.card.file", ("file", name.Replace('.', '-'))))))))));

    private static XElement Words(string path) => Field.Fold(
        Voice.Say("web.card.words"), false,
        Form($"{path}/notes", Voice.Say("web.card.note-add"), Area("text")),
        Form($"{path}/tags", Voice.Say("web.card.tag-add"), Field.Of("tag")));

    private static XElement Form(string path, string words, XElement field) => new(
        "form", Html.Class("line"), new XAttribute("method", "post"), new XAttribute("action", path), new XAttribute("data-post", ""),
        new XAttribute("data-into", Said), field, new XElement("button", Html.Class("button"), words));

    private static XElement Area(string name) => new(
        "label", Html.Class("asked"), new XElement("span", Field.NameOf(name)),
        new XElement("textarea", new XAttribute("id", name), new XAttribute("name", name), new XAttribute("rows", 3)));
}
