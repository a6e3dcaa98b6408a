using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>Elements of the page. Text goes in as text and is escaped when it is written, never by hand.</summary>
internal static class Html
{
    public static XAttribute Class(string names) => new("class", names);

    /// <summary>A section with its heading.</summary>
    public static XElement Section(string id, string heading, params object?[] content) => new(
        "section",
        new XAttribute("aria-labelledby", id),
        new XElement("h2", new XAttribute("id", id), heading),
        content);

    public static XElement Paragraph(params object?[] content) => new("p", content);

    /// <summary>A table's heading cell.</summary>
    /// <param name="scope"><c>col</c> or <c>row</c>.</param>
    /// <param name="content">What stands in it.</param>
    public static XElement Heading(string scope, params object?[] content) => new("th", new XAttribute("scope", scope), content);

    /// <summary>A part that may be wider than the window and then scrolls by itself, with the keyboard too.</summary>
    /// <param name="label">What it is, for a screen reader.</param>
    /// <param name="fits">True where it shrinks to fit even a phone.</param>
    /// <param name="content">What is in it.</param>
    public static XElement Scroller(string label, bool fits, params object?[] content) => new(
        "div", Class(fits ? "scroller" : "scroller far"), new XAttribute("role", "region"), new XAttribute("tabindex", "0"), new XAttribute("aria-label", label), content);

    /// <summary>Two columns of names and what they hold.</summary>
    public static XElement Facts(IEnumerable<(string Name, string Value)> facts) => new(
        "dl", Class("facts"), facts.Select(fact => new XElement("div", new XElement("dt", fact.Name), new XElement("dd", fact.Value))));

    /// <summary>"not measured", set back so that it does not shout in a table.</summary>
    public static XElement NotMeasured() => new("span", Class("absent"), "not\u00a0measured");
}
