using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>Elements of the page. Text goes in as text and is escaped when it is written, never by hand.</summary>
public static class Html
{
    /// <summary>The classes of an element.</summary>
    public static XAttribute Class(string names) => new("class", names);

    /// <summary>A section with its heading.</summary>
    /// <param name="id">The heading's id, of its own on the page.</param>
    /// <param name="heading">The heading.</param>
    /// <param name="content">What follows.</param>
    public static XElement Section(string id, string heading, params object?[] content) => new(
        "section",
        new XAttribute("aria-labelledby", id),
        new XElement("h2", new XAttribute("id", id), heading),
        content);

    /// <summary>A paragraph.</summary>
    public static XElement Paragraph(params object?[] content) => new("p", content);

    /// <summary>A table's heading cell.</summary>
    /// <param name="scope"><c>col</c> or <c>row</c>.</param>
    /// <param name="content">What stands in it.</param>
    public static XElement Heading(string scope, params object?[] content) => new("th", new XAttribute("scope", scope), content);

    /// <summary>The heading row of a table.</summary>
    /// <param name="headings">The headings, from left to right.</param>
    public static XElement Head(params IEnumerable<string> headings) =>
        new("thead", new XElement("tr", headings.Select(text => Heading("col", text))));

    /// <summary>A sentence with elements in the places of some of its values.</summary>
    /// <param name="code">Code of the sentence.</param>
    /// <param name="elements">The elements, by name of the value.</param>
    /// <param name="values">The other values.</param>
    public static IEnumerable<object> Sentence(
        string code, IReadOnlyList<(string Name, XElement Element)> elements, params IEnumerable<(string Name, Figure Value)> values)
    {
        // Characters for private use stand in for the elements while the sentence is made.
        const char First = '\uE000';
        string text = Voice.Say(code, [.. elements.Select((each, i) => (each.Name, (Figure)$"{(char)(First + i)}")), .. values]);
        while (text.Length > 0)
        {
            int at = text.AsSpan().IndexOfAnyInRange(First, (char)(First + elements.Count - 1));
            yield return at < 0 ? text : text[..at];
            if (at < 0) yield break;
            yield return elements[text[at] - First].Element;
            text = text[(at + 1)..];
        }
    }

    /// <summary>A number to be seen from afar, its unit small behind it.</summary>
    public static XElement Large(Number number)
    {
        string bare = Voice.TellBare(number), whole = Voice.Tell(number);
        int at = whole.IndexOf(bare, StringComparison.Ordinal);
        return new("span", Class("figure"), whole[..at], new XElement("strong", bare), whole[(at + bare.Length)..]);
    }

    /// <summary>A part that may be wider than the window and then scrolls by itself, with the keyboard too.</summary>
    /// <param name="label">What it is, for a screen reader.</param>
    /// <param name="fits">True where it shrinks to fit even a phone.</param>
    /// <param name="content">What is in it.</param>
    public static XElement Scroller(string label, bool fits, params object?[] content) => new(
        "div", Class(fits ? "scroller" : "scroller far"), fits ? null : new XAttribute("data-more", Voice.Say("page.swipe")),
        new XAttribute("role", "region"), new XAttribute("tabindex", "0"), new XAttribute("aria-label", label), content);

    /// <summary>Two columns of names and what they hold.</summary>
    public static XElement Facts(IEnumerable<(string Name, string Value)> facts) => new(
        "dl", Class("facts"), facts.Select(fact => new XElement("div", new XElement("dt", fact.Name), new XElement("dd", fact.Value))));

    /// <summary>"44.1 to 51.0".</summary>
    public static string Range(string low, string high) => Voice.Say("page.range", ("low", low), ("high", high));

    /// <summary>"not measured", set back so that it does not shout in a table.</summary>
    public static XElement NotMeasured() => new("span", Class("absent"), Numbers.NotMeasured);
}
