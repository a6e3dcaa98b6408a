using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>All cards, with a search; taken out as a file and taken in from one.</summary>
internal static class ArchivePage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/archive";

    /// <summary>Cards that are shown at first.</summary>
    public const int UsualMost = 50;

    /// <summary>What cards are saved as.</summary>
    private static readonly string[] Endings = ["zip", "csv", "json"];

    public static string Write(HttpContext context, Outcome<FoundCards> found, Outcome<ValueList<KnownPhone>> phones) => Shell.Write(
        context, Voice.Say("web.way", ("to", "archive")),
        new XElement("h1", Voice.Say("web.way", ("to", "archive"))),
        QueryForm.Write(Path, context.Request.Query, hasDays: true),
        new XElement("div", new XAttribute("id", "found"), new XAttribute("aria-live", "polite"), Found(context, found)),
        Html.Section("bundles", Voice.Say("web.archive.bundles"),
            Html.Paragraph(Voice.Say("web.archive.take-in")),
            SendingParts.Button(
                Voice.Say("web.archive.choose"), "button", ".zip,application/zip", new XAttribute("data-to", BundleRoutes.Path)),
            SendingParts.List()).For(MemberRole.Keep),
        phones is { IsRefused: false, Value.Count: > 0 } ? Phones(phones.Value) : null,
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.archive.prune")).For(MemberRole.Keep));

    private static XElement Phones(ValueList<KnownPhone> phones) => Html.Section(
        "phones", Voice.Say("web.archive.phones"),
        new XElement("ul", phones.Select(phone => new XElement("li", Voice.Say("web.archive.phone",
            ("phone", phone.Entry.Camera.Name), ("series", phone.Entry.Series.Count), ("day", phone.Entry.Series[0].Day),
            ("seen", In(Unit.Density, phone.HalfSeenAs)), ("error", Share(phone.DarknessScaleError)))))),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.archive.phones-hint")));

    /// <summary>What was found.</summary>
    public static XElement Found(HttpContext context, Outcome<FoundCards> found)
    {
        if (found.IsRefused) return RefusalPart.Write(found.Refusal!);
        (ValueList<CardEntry> cards, long count) = found.Value;
        if (cards.Count == 0) return Html.Paragraph(Html.Class("lead"), Voice.Say("web.archive.none"));
        IQueryCollection fields = context.Request.Query;
        string more = QueryForm.Address(Path, fields, ("most", (4 * cards.Count).ToString(CultureInfo.InvariantCulture)));
        return new(
            "div",
            Html.Paragraph(Html.Class("hint"), Voice.Say("web.archive.count",
                ("count", (int)Math.Min(count, FoundCards.MostCounted)), ("more", Is(found.Value.IsUncounted)))),
            new XElement("ul", Html.Class("entries"), cards.Select(Item)),
            count > cards.Count
                ? new XElement("a", Html.Class("button"), new XAttribute("href", more), Voice.Say("web.archive.more"))
                : null,
            new XElement("p", Html.Class("ways small"), Endings.Select(ending => new XElement(
                "a", Html.Class("button"), new XAttribute("href", QueryForm.Address($"{Path}/cards.{ending}", fields)),
                Voice.Say("web.archive.take-out", ("ending", ending))))));
    }

    /// <summary>A card on one line or two.</summary>
    public static XElement Item(CardEntry card) => new(
        "li",
        new XElement("p", new XElement("a", Html.Class("to"), new XAttribute("href", EntryParts.PathOf(card)), EntryParts.Name(card))),
        EntryParts.Hazards(card),
        card.Recommendations.Count == 0 ? null : Html.Paragraph(Html.Class("big"), EntryParts.Setting(card.Recommendations[0])),
        Html.Paragraph(Html.Class("about"), Voice.Say("web.archive.about", Known(
            ("process", $"{card.Process}"), ("machine", card.Machine), ("batch", Figures.Text(card.Batch)),
            ("readings", card.Readings), ("day", EntryParts.Day(card.NewestReadUtc ?? card.KeptUtc)),
            ("closed", Is(card.ClosedUtc is not null)),
            ("tags", card.Tags.Count == 0 ? null : List(card.Tags))))));
}
