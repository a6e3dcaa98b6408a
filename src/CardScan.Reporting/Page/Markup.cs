using System.Text;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>Writes a tree of elements as a page that both HTML and XML parsers read alike.</summary>
public static partial class Markup
{
    // HTML's elements without content; every other HTML element needs its end tag even when empty.
    private static readonly HashSet<string> Void = ["meta", "br", "hr", "img", "link", "col"];

    /// <summary>Writes the page.</summary>
    /// <param name="root">The <c>html</c> element; its texts may hold anything, what cannot stand in a page is replaced.</param>
    public static string Write(XElement root)
    {
        ArgumentNullException.ThrowIfNull(root);
        StringBuilder page = new("<!DOCTYPE html>\n");
        Append(page, root);
        return page.Append('\n').ToString();
    }

    /// <summary>Writes a part of a page.</summary>
    /// <param name="part">The part; its texts as those of a page.</param>
    public static string WritePart(XElement part)
    {
        ArgumentNullException.ThrowIfNull(part);
        StringBuilder text = new();
        Append(text, part);
        return text.ToString();
    }

    private static void Append(StringBuilder text, XElement root)
    {
        MakeWritable(root);
        XmlWriterSettings settings = new()
        {
            OmitXmlDeclaration = true, Indent = true, IndentChars = " ", NewLineChars = "\n", CheckCharacters = true,
        };
        using XmlWriter writer = XmlWriter.Create(text, settings);
        root.Save(writer);
    }

    private static void MakeWritable(XElement root)
    {
        foreach (XElement element in root.DescendantsAndSelf())
        {
            foreach (XAttribute attribute in element.Attributes())
                attribute.Value = IsRead(attribute) ? Typeset(Clean(attribute.Value)) : Clean(attribute.Value);
            foreach (XText text in element.Nodes().OfType<XText>()) text.Value = Typeset(Clean(text.Value));
            bool isSvg = element.AncestorsAndSelf("svg").Any();
            if (element.IsEmpty && !isSvg && !Void.Contains(element.Name.LocalName)) element.Value = "";
        }
    }

    /// <summary>True for what a screen reader reads out.</summary>
    private static bool IsRead(XAttribute attribute) => attribute.Name.LocalName is "aria-label" or "alt";

    /// <summary>The text with a number and its unit on one line, and with true minus signs; sentences have plain ones.</summary>
    internal static string Typeset(string text) => Minus().Replace(NumberBeforeUnit().Replace(text, "\u00a0"), "−");

    [GeneratedRegex(@"(?<=[0-9]) (?=(%|mm\b|W\b|px\b|J/mm))", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex NumberBeforeUnit();

    /// <remarks>Not in front of a name that begins like a number, as a file's may: "-3.jpg".</remarks>
    [GeneratedRegex(@"(?<=^|[ \u00a0\[(])-(?=[0-9]+(\.[0-9]+)?(?![\w.]*\w))", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Minus();

    /// <summary>
    /// The text with U+FFFD for what no page can hold (control characters, lone surrogates) and for what could make
    /// text read other than it is written (the bidirectional overrides and isolates).
    /// </summary>
    internal static string Clean(string text)
    {
        if (text.All(c => c is >= ' ' and < '\u007f')) return text;
        StringBuilder clean = new(text.Length);
        foreach (Rune rune in text.EnumerateRunes()) // gives U+FFFD for a lone surrogate
            clean.Append(IsWritable(rune.Value) ? rune.ToString() : "\ufffd");
        return clean.ToString();
    }

    private static bool IsWritable(int code) => code switch
    {
        '\t' or '\n' => true,
        < 0x20 => false,
        >= 0x7f and < 0xa0 => false,
        >= 0x202a and <= 0x202e => false,
        >= 0x2066 and <= 0x2069 => false,
        0xfffe or 0xffff => false,
        _ => true,
    };
}
