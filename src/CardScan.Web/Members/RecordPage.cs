using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Who did what.</summary>
internal static class RecordPage
{
    /// <summary>Where it stands; for those who keep the workshop.</summary>
    public const string Path = "/record";

    /// <summary>Deeds that it shows; the command line shows more.</summary>
    private const int Most = 300;

    /// <summary>Deeds that a card's page shows.</summary>
    private const int MostOfCard = 50;

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.way", ("to", "record")),
        new XElement("h1", Voice.Say("web.way", ("to", "record"))),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.record.how")),
        LivePart.Write($"{Path}/list", [Topic.Archive, Topic.Guests], List(shop)));

    /// <summary>The newest first.</summary>
    public static XElement List(Workshop shop)
    {
        Outcome<ValueList<Deed>> deeds = shop.Archive.Members.Deeds(null, Most);
        return LivePart.Content(deeds.IsRefused ? RefusalPart.Write(deeds.Refusal!) : ListOf(deeds.Value));
    }

    /// <summary>What was done to a card; null where nobody wrote it down.</summary>
    public static XElement? OfCard(Workshop shop, long cardId)
    {
        if (shop.Page is null) return null;
        Outcome<ValueList<Deed>> deeds = shop.Archive.Members.Deeds(cardId, MostOfCard);
        return deeds is { IsRefused: false, Value.Count: > 0 }
            ? Field.Fold(Voice.Say("web.record.of-card"), false, ListOf(deeds.Value))
            : null;
    }

    private static XElement ListOf(ValueList<Deed> deeds) => new("ul", Html.Class("notes"), deeds.Select(deed => new XElement(
        "li", new XElement("span", Html.Class("when"), EntryParts.Time(deed.Done)), " ",
        deed.CardId is { } card
            ? new XElement("a", new XAttribute("href", CardPage.PathOf(card)), deed.InWords())
            : new XElement("span", deed.InWords()))));
}
