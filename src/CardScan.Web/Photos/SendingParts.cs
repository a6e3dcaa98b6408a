using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>What a page needs to send files: a button, and the list of those on their way.</summary>
internal static class SendingParts
{
    /// <summary>A button that opens a choice of files, which are sent at once.</summary>
    /// <param name="words">Its words.</param>
    /// <param name="look">Its classes.</param>
    /// <param name="accept">The types of files, as browsers want them.</param>
    /// <param name="more">How the browser gets them, and where they go if they are no photos.</param>
    public static XElement Button(string words, string look, string accept, params object?[] more) => new(
        "label", Html.Class(look),
        new XElement(
            "input", new XAttribute("type", "file"), new XAttribute("accept", accept), new XAttribute("data-photos", ""), more),
        new XElement("span", words));

    /// <summary>The files on their way: the page's script fills it.</summary>
    public static XElement List() => new(
        "ol", new XAttribute("id", "sending"), Html.Class("photos"), new XAttribute("aria-live", "polite"),
        new XAttribute("data-again", Voice.Say("web.sending.again")), new XAttribute("data-outside", Voice.Say("web.sending.outside")));
}
