using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>What every page has around its content.</summary>
internal static class Shell
{
    private static readonly (string Path, string Name)[] Computer =
        [("/", "today"), ("/cards/new", "make"), ("/photograph", "photograph"), ("/settings", "settings"), ("/archive", "archive")];

    private static readonly (string Path, string Name)[] Phone = [("/photograph", "photograph"), ("/", "today")];

    /// <summary>A page for somebody who is in.</summary>
    /// <param name="context">The request.</param>
    /// <param name="title">Its title.</param>
    /// <param name="main">Its content.</param>
    public static string Write(HttpContext context, string title, params object?[] main)
    {
        Guest guest = DoorKeeper.GuestOf(context);
        return Page(title, guest.HasCamera ? $"phone may-{EnumName.Of(guest.Role)}" : $"computer may-{EnumName.Of(guest.Role)}",
            new XElement("a", Html.Class("skip"), new XAttribute("href", "#main"), Voice.Say("web.skip")),
            Bar(WaysOf(guest), context.Request.Path, guest.Member),
            new XElement("main", new XAttribute("id", "main"), new XAttribute("tabindex", "-1"), main),
            new XElement("p", new XAttribute("id", "lost"), Html.Class("lost"), new XAttribute("role", "alert"),
                new XAttribute("hidden", ""), Voice.Say("web.lost")));
    }

    /// <summary>A page that says why another one is not there.</summary>
    public static string Refused(HttpContext context, Refusal refusal) =>
        Write(context, Voice.Say("web.refused.title"), new XElement("h1", Voice.Say("web.refused.title")), RefusalPart.Write(refusal));

    /// <summary>A page for an address that leads nowhere.</summary>
    public static string Missing(HttpContext context) => Write(context, Voice.Say("web.missing.title"),
        new XElement("h1", Voice.Say("web.missing.title")),
        Html.Paragraph(new XElement("a", Html.Class("button"), new XAttribute("href", "/"), Voice.Say("web.missing.home"))));

    /// <summary>A page for somebody who is not in.</summary>
    /// <param name="why">A branch of the message "web.outside".</param>
    public static string Outside(string why) => Page(Voice.Say("web.name"), "outside", new XElement(
        "main", new XAttribute("id", "main"),
        new XElement("h1", Voice.Say("web.outside.title", ("why", why))),
        Html.Paragraph(Html.Class("lead"), Voice.Say("web.outside.what", ("why", why)))));

    /// <summary>A page for somebody who is not let in, with the reason.</summary>
    /// <param name="refusal">The reason, and what to do.</param>
    public static string Closed(Refusal refusal) => Page(Voice.Say("web.name"), "outside", new XElement(
        "main", new XAttribute("id", "main"),
        new XElement("h1", Voice.Say("web.refused.title")), RefusalPart.Write(refusal)));

    /// <summary>A page for somebody who is not in yet.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="main">Its content.</param>
    public static string Welcome(string title, params object?[] main) => Page(
        title, "outside", new XElement("main", new XAttribute("id", "main"), new XElement("h1", title), main));

    /// <summary>What somebody's role has no use for is left out of the bar; a phone of one person's own is for photos.</summary>
    private static (string Path, string Name)[] WaysOf(Guest guest)
    {
        if (guest.Member is null) return guest.IsComputer ? Computer : Phone;
        return guest.May(MemberRole.Add) ? Computer : [.. Computer.Where(way => way.Name is not ("make" or "photograph"))];
    }

    /// <summary>A page that leads on at once.</summary>
    /// <param name="path">Where to.</param>
    public static string Onward(string path) => Markup.Write(new(
        "html", new XAttribute("lang", Voice.Language),
        new XElement("head",
            new XElement("meta", new XAttribute("charset", "utf-8")),
            new XElement("meta", new XAttribute("http-equiv", "refresh"), new XAttribute("content", $"0;url={path}")),
            new XElement("title", Voice.Say("web.name"))),
        new XElement("body", new XElement("a", new XAttribute("href", path), Voice.Say("web.name")))));

    private static string Page(string title, string kind, params object?[] body) => Markup.Write(new(
        "html", new XAttribute("lang", Voice.Language),
        new XElement("head",
            new XElement("meta", new XAttribute("charset", "utf-8")),
            new XElement("meta", new XAttribute("name", "viewport"), new XAttribute("content", "width=device-width, initial-scale=1")),
            new XElement("meta", new XAttribute("name", "color-scheme"), new XAttribute("content", "light dark")),
            new XElement("title", Voice.Say("web.title", ("title", title))),
            new XElement("link", new XAttribute("rel", "icon"), new XAttribute("href", PageAssets.IconAddress)),
            new XElement("link", new XAttribute("rel", "stylesheet"), new XAttribute("href", PageAssets.StyleAddress)),
            new XElement("script", new XAttribute("src", PageAssets.ScriptAddress), new XAttribute("defer", ""))),
        new XElement("body", Html.Class(kind), body)));

    private static XElement Bar((string Path, string Name)[] ways, PathString here, Member? member) => new(
        "nav", Html.Class("bar"), new XAttribute("aria-label", Voice.Say("web.bar")),
        new XElement("a", Html.Class("name"), new XAttribute("href", "/"), Voice.Say("web.name")),
        new XElement("ul", ways.Select(way => Way(way.Path, Voice.Say("web.word", ("to", way.Name)), here)),
            member is null ? null : Way(MembersPage.OwnPath, member.Name, here)));

    private static XElement Way(string path, string words, PathString here) => new("li", new XElement(
        "a", new XAttribute("href", path), here == path ? new XAttribute("aria-current", "page") : null, words));
}
