using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What the archive's lists say of cards and settings.</summary>
internal static class EntryParts
{
    /// <summary>"birch plywood 3 mm".</summary>
    public static string Material(CardEntry card) => Voice.Tell(card.MaterialFigure());

    /// <summary>"Card 17 · birch plywood 3 mm".</summary>
    public static string Name(CardEntry card) => Voice.Say("page.title", ("number", card.Number), ("title", Material(card)));

    /// <summary>Address of a card's page.</summary>
    public static string PathOf(CardEntry card) => CardPage.PathOf(card.Id);

    /// <summary>Everything that must be entered to repeat a setting.</summary>
    public static string Setting(RecommendationEntry entry) => Voice.Tell(entry.ToFigure());

    /// <summary>What speaks against burning a card's material; empty where its name tells of nothing.</summary>
    public static IEnumerable<XElement> Hazards(CardEntry card) =>
        MaterialWords.Of(card.Material).Select(word => Html.Paragraph(Html.Class("doubt"), word.Message));

    /// <summary>A day as the archive has it, UTC.</summary>
    public static string Day(DateTimeOffset time) => $"{time:yyyy-MM-dd}";

    /// <summary>A moment by the clock of the computer that serves the page.</summary>
    public static string Time(DateTimeOffset utc) => $"{utc.ToLocalTime():yyyy-MM-dd HH:mm}";

    /// <summary>A field to fill in, with its name above.</summary>
    /// <param name="label">The name.</param>
    /// <param name="field">The field.</param>
    public static XElement Field(string label, XElement field) => new("label", Html.Class("field"), new XElement("span", label), field);

    /// <summary>A field for a line of text.</summary>
    public static XElement Input(string type, string name, string? value, params object?[] more) => new(
        "input", new XAttribute("type", type), new XAttribute("name", name), value is null ? null : new XAttribute("value", value), more);

    /// <summary>A choice of one.</summary>
    /// <param name="name">Name of the field.</param>
    /// <param name="chosen">What is chosen.</param>
    /// <param name="options">Values with their words.</param>
    public static XElement Select(string name, string? chosen, IEnumerable<(string Value, string Words)> options) =>
        new("select", new XAttribute("name", name), Web.Field.Options(chosen, options));
}
