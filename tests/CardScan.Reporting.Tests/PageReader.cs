using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

/// <summary>Reads a page back: it is well-formed XML after its first line.</summary>
internal static class PageReader
{
    public static string Page(Reading reading, bool withPicture = false) => CardReport.Html(new(
        reading,
        withPicture ? reading.Photos.Select(_ => CardReport.OnPage(Samples.Picture(reading.Plan, 4))).ToValueList() : []));

    public static XElement Parse(string page)
    {
        const string FirstLine = "<!DOCTYPE html>\n";
        Assert.StartsWith(FirstLine, page, StringComparison.Ordinal);
        return XElement.Parse(page[FirstLine.Length..]);
    }

    public static XElement Parsed(Reading reading, bool withPicture = false) => Parse(Page(reading, withPicture));

    /// <summary>The text of an element with ordinary spaces, as a reader sees it.</summary>
    public static string Text(XElement element) => element.Value.Replace('\u00a0', ' ');

    /// <summary>The style sheet as the browser hashes it: byte for byte between its tags.</summary>
    public static string Style(string page)
    {
        const string Open = "<style>", Close = "</style>";
        int from = page.IndexOf(Open, StringComparison.Ordinal) + Open.Length;
        return page[from..page.IndexOf(Close, StringComparison.Ordinal)];
    }

    /// <summary>The section under a heading's id; null where the page has none.</summary>
    public static XElement? Section(XElement page, string id) =>
        page.Descendants("section").SingleOrDefault(section => (string?)section.Attribute("aria-labelledby") == id);
}
