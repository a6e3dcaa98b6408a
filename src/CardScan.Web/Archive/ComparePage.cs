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
        HttpContext context, IReadOnlyList<CardEntry> cards, string? first, string? second, IEnumerable<XElement>? result) => Shell.Write(
        context, Voice.Say("web.way", ("to", "compare")),
        result is null ? new XElement("h1", Voice.Say("web.way", ("to", "compare"))) : null,
        result is null ? Html.Paragraph(Html.Class("lead"), Voice.Say("web.compare.lead")) : null,
        result,
        new XElement(
            "form", Html.Class("query"), new XAttribute("action", Path),
            Choice("first", cards, first ?? ReadingOf(cards.ElementAtOrDefault(1))),
            Choice("second", cards, second ?? ReadingOf(cards.ElementAtOrDefault(0))),
            new XElement("button", Html.Class("first"), Voice.Say("web.compare.do"))));

    private static XElement Choice(string name, IReadOnlyList<CardEntry> cards, string? chosen) => EntryParts.Field(
        Voice.Say("web.compare.choice", ("which", name)),
        EntryParts.Select(name, chosen, cards.Select(card => (ReadingOf(card)!, Voice.Say("web.compare.card", Known(
            ("number", card.Number), ("material", EntryParts.Material(card)), ("batch", Figures.Text(card.Batch)),
            ("day", EntryParts.Day(card.NewestReadUtc ?? card.KeptUtc)), ("process", $"{card.Process}")))))));

    private static string? ReadingOf(CardEntry? card) => card?.NewestReadingId is { } id ? ReadingEntry.NameOf(id) : null;
}
