using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Two cards chosen, and what the second needs over the first.</summary>
internal static class ComparePage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/compare";

    /// <param name="context">The request.</param>
    /// <param name="cards">Cards with a reading, newest first.</param>
    /// <param name="first">Name of the first reading; null where none is chosen.</param>
    /// <param name="second">Name of the second.</param>
    /// <param name="result">The comparison's parts, or a refusal; null where nothing is chosen.</param>
    public static string Write(
        HttpContext context, IReadOnlyList<CardEntry> cards, string? first, string? second, IEnumerable<XElement>? result)
    {
        (string Reading, string Name)[] offered = [.. cards.Select(card => (ReadingOf(card), NameOf(card)))];
        return Shell.Write(
            context, Voice.Say("web.way", ("to", "compare")),
            result is null ? new XElement("h1", Voice.Say("web.way", ("to", "compare"))) : null,
            result is null ? Html.Paragraph(Html.Class("lead"), Voice.Say("web.compare.lead")) : null,
            result,
            new XElement(
                "form", Html.Class("query"), new XAttribute("action", Path),
                Choice("first", offered, first ?? offered.ElementAtOrDefault(1).Reading),
                Choice("second", offered, second ?? offered.ElementAtOrDefault(0).Reading),
                new XElement("button", Html.Class("first"), Voice.Say("web.compare.do"))));
    }

    private static XElement Choice(string name, IEnumerable<(string Reading, string Name)> offered, string? chosen) =>
        EntryParts.Field(Voice.Say("web.compare.choice", ("which", name)), EntryParts.Select(name, chosen, offered));

    private static string NameOf(CardEntry card) => Voice.Say("web.compare.card", Known(
        ("number", card.Number), ("material", EntryParts.Material(card)), ("batch", Figures.Text(card.Batch)),
        ("day", EntryParts.Day(card.NewestReadUtc ?? card.KeptUtc)), ("process", $"{card.Process}")));

    private static string ReadingOf(CardEntry card) => ReadingEntry.NameOf(card.NewestReadingId!.Value);
}
