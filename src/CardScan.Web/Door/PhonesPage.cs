using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>The code that lets a phone in, and the phones that are.</summary>
internal static class PhonesPage
{
    /// <summary>Where it stands; on the computer only.</summary>
    public const string Path = "/phones";

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.phones.title"),
        new XElement("h1", Voice.Say("web.phones.title")),
        LivePart.Write($"{Path}/list", [Topic.Guests], List(shop)));

    /// <summary>The code and the phones.</summary>
    public static XElement List(Workshop shop)
    {
        Guest[] phones = [.. shop.Doorway.Guests.Where(guest => !guest.IsComputer)];
        return LivePart.Content(
            shop.Phones!.Link is { } link ? Way(link) : Closed(),
            phones.Length == 0
                ? null
                : Html.Section("in", Voice.Say("web.phones.in"), new XElement("ul", Html.Class("phones"), phones.Select(Item))));
    }

    private static XElement Closed() => new(
        "div", Html.Paragraph(Html.Class("lead"), Voice.Say("web.phones.closed")),
        Field.Button($"{Path}/open", into: null, Voice.Say("web.phones.open"), "large first"));

    private static object[] Way(string link) =>
    [
        Html.Paragraph(Html.Class("lead"), Voice.Say("web.phones.scan")),
        LinkCode.Of(link).ToSvg(),
        Html.Paragraph(Html.Class("address"), link),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.phones.network")),
        Field.Button($"{Path}/close", into: null, Voice.Say("web.phones.close"), "button"),
    ];

    private static XElement Item(Guest phone) => new(
        "li", new XElement("span", Voice.Say(
            "web.phones.item", ("device", phone.Device), ("time", $"{phone.JoinedUtc.ToLocalTime():HH:mm}"))),
        Field.Button($"{Path}/{phone.Number}/away", into: null, Voice.Say("web.phones.away"), "button"));
}
