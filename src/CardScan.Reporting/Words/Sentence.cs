using System.Text;

namespace CardScan.Reporting;

/// <summary>Small helpers for running text.</summary>
internal static class Sentence
{
    /// <summary>The text with a capital in front.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>The text without a capital in front, to stand inside a sentence.</summary>
    public static string Small(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];

    /// <summary>The text with a full stop at its end, unless it has one.</summary>
    public static string Stopped(string text)
    {
        string trimmed = text.TrimEnd();
        return trimmed.Length == 0 || trimmed[^1] is '.' or '!' or '?' ? trimmed : trimmed + ".";
    }

    /// <summary>"a", "a and b", "a, b and c".</summary>
    public static string List(IReadOnlyList<string> items) => items.Count switch
    {
        0 => "",
        1 => items[0],
        _ => $"{string.Join(", ", items.Take(items.Count - 1))} and {items[^1]}",
    };

    /// <summary>A camel-case or kebab-case code as words, for codes this version does not know: "tipPeriod" becomes "tip period".</summary>
    public static string FromCode(string code)
    {
        StringBuilder words = new();
        foreach (char c in code)
        {
            if (c is '-' or '_') words.Append(' ');
            else if (char.IsAsciiLetterUpper(c) && words.Length > 0) words.Append(' ').Append(char.ToLowerInvariant(c));
            else words.Append(c);
        }

        return words.ToString();
    }
}
