using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>The typeface of the annotated picture, carried inside the program.</summary>
/// <remarks>
/// The native library is built without a font manager: its default typeface has no glyphs on any machine, so text would
/// be missing without an error. Roboto Condensed (Apache 2.0, Fonts/LICENSE.txt) covers Latin, Greek and Cyrillic.
/// </remarks>
internal static class Typeface
{
    private static readonly Lazy<SKTypeface> Shared = new(Load);

    /// <summary>A font of the given size in px. The caller disposes.</summary>
    public static SKFont Font(double sizePx) => new(Shared.Value, (float)sizePx)
    {
        Edging = SKFontEdging.Antialias,
        Hinting = SKFontHinting.None, // unhinted widths scale exactly with the size
        Subpixel = true,
        LinearMetrics = true,
    };

    /// <summary>Width of a text at size 1.</summary>
    public static double WidthOf(string text)
    {
        using SKFont font = Font(100);
        return font.MeasureText(text) / 100.0;
    }

    /// <summary>A text as lines that are no wider than the room; a word that is wider stands alone.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Size of the type.</param>
    /// <param name="room">The room, in the same unit.</param>
    public static List<string> Lines(string text, double size, double room)
    {
        List<string> lines = [""];
        foreach (string word in Markup.Typeset(text).Split(' '))
        {
            string longer = lines[^1].Length == 0 ? word : $"{lines[^1]} {word}";
            if (lines[^1].Length == 0 || WidthOf(longer) * size <= room) lines[^1] = longer;
            else lines.Add(word);
        }

        return lines;
    }

    /// <summary>True when every character has a glyph.</summary>
    public static bool CanWrite(string text)
    {
        using SKFont font = Font(12);
        return font.ContainsGlyphs(text);
    }

    /// <summary>The text with a question mark for every character that has no glyph.</summary>
    public static string Writable(string text) => CanWrite(text)
        ? text
        : string.Concat(text.EnumerateRunes().Select(rune => CanWrite(rune.ToString()) ? rune.ToString() : "?"));

    private static SKTypeface Load()
    {
        using Stream file = typeof(Typeface).Assembly.GetManifestResourceStream("RobotoCondensed-Medium.ttf")
            ?? throw new InvalidOperationException("The typeface is missing from the assembly.");
        return SKTypeface.FromStream(file) ?? throw new InvalidOperationException("The typeface cannot be read.");
    }
}
