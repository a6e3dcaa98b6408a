using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Fields of forms. Each is named after the command line's option, and its text is the option's.</summary>
internal static class Field
{
    /// <summary>A field to type in.</summary>
    /// <param name="name">Its name, which is its id too.</param>
    /// <param name="value">What stands in it.</param>
    /// <param name="taken">What is taken where nothing is typed.</param>
    /// <param name="more">More attributes and content.</param>
    public static XElement Of(string name, string? value = null, string? taken = null, params object?[] more) => Labelled(
        name, new XElement(
            "input", new XAttribute("type", "text"), Named(name),
            new XAttribute("autocomplete", "off"), new XAttribute("spellcheck", "false"),
            value is null ? null : new XAttribute("value", value), taken is null ? null : new XAttribute("placeholder", taken), more));

    /// <summary>The same with the option's own words below it.</summary>
    public static XElement Told(string name, string? value = null, string? taken = null)
    {
        XElement field = Of(name, value, taken, new XAttribute("aria-describedby", $"{name}-hint"));
        field.Add(new XElement("small", new XAttribute("id", $"{name}-hint"), Html.Class("hint"), Voice.Say($"option.{name}")));
        return field;
    }

    /// <summary>One of a few words.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="chosen">The word that is chosen; null for none.</param>
    /// <param name="words">The words, first the one that stands for what is taken where none is chosen.</param>
    public static XElement Choice(string name, string? chosen, params (string Value, string Words)[] words) => Labelled(
        name, new XElement("select", Named(name), Options(chosen, words)));

    /// <summary>What a choice of one offers.</summary>
    /// <param name="chosen">The word that is chosen; null for none.</param>
    /// <param name="words">The words.</param>
    public static IEnumerable<XElement> Options(string? chosen, IEnumerable<(string Value, string Words)> words) =>
        words.Select(word => new XElement(
            "option", new XAttribute("value", word.Value),
            word.Value == (chosen ?? "") ? new XAttribute("selected", "") : null, word.Words));

    /// <summary>A box to tick.</summary>
    public static XElement Box(string name, bool isOn, string words) => new(
        "label", Html.Class("tick-box"),
        new XElement("input", new XAttribute("type", "checkbox"), Named(name), isOn ? new XAttribute("checked", "") : null),
        new XElement("span", words));

    /// <summary>Parts that are not needed every day.</summary>
    public static XElement Fold(string words, bool isOpen, params object?[] content) => new(
        "details", Html.Class("fold"), isOpen ? new XAttribute("open", "") : null, new XElement("summary", words), content);

    /// <summary>A button that does something.</summary>
    /// <param name="path">Where it is sent.</param>
    /// <param name="into">Id of the place for what is answered; null for the live part around it.</param>
    /// <param name="words">Its words.</param>
    /// <param name="look">Its classes.</param>
    /// <param name="fields">Fields that are sent along.</param>
    public static XElement Button(string path, string? into, string words, string look, params object?[] fields) => new(
        "form", new XAttribute("method", "post"), new XAttribute("action", path), new XAttribute("data-post", ""),
        into is null ? null : new XAttribute("data-into", into), fields, new XElement("button", Html.Class(look), words));

    /// <summary>Shown to those whose role is enough for it: the style sheet hides it from others, and its route refuses them.</summary>
    /// <param name="part">The part of a page.</param>
    /// <param name="least">The role that it takes.</param>
    public static XElement For(this XElement part, MemberRole least)
    {
        if (least > MemberRole.Look) part.Add(new XAttribute("data-for", EnumName.Of(least)));
        return part;
    }

    /// <summary>A field that nobody sees.</summary>
    public static XElement Hidden(string name, string value) => new(
        "input", new XAttribute("type", "hidden"), new XAttribute("name", name), new XAttribute("value", value));

    /// <summary>What is taken where a field above is left empty: the page's script puts it there.</summary>
    public static XElement Taken(string name, string words) => new(
        "span", new XAttribute("hidden", ""), new XAttribute("data-taken", name), new XAttribute("data-words", words));

    /// <summary>The short name of a field.</summary>
    public static string NameOf(string name) => Voice.Say($"field.{name}");

    private static XElement Labelled(string name, XElement input) => new(
        "label", Html.Class("asked"), new XElement("span", NameOf(name)), input);

    private static XAttribute[] Named(string name) => [new("id", name), new("name", name)];
}
