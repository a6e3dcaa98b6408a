using SkiaSharp;

namespace CardScan.Planning;

/// <summary>
/// The typeface of the paper mask, carried inside the program: the native library has no font manager and no glyphs of its own.
/// </summary>
internal static class SheetText
{
    private static readonly Lazy<SKTypeface> Shared = new(Load);

    /// <summary>A font of the given size, in the canvas's units. The caller disposes.</summary>
    internal static SKFont Font(double size) =>
        new(Shared.Value, (float)size) { Subpixel = true, Hinting = SKFontHinting.None, LinearMetrics = true };

    /// <summary>Breaks a text into lines no wider than allowed.</summary>
    internal static IEnumerable<string> Wrapped(string text, SKFont font, double width)
    {
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && font.MeasureText(longer) > width)
            {
                yield return line;
                longer = word;
            }

            line = longer;
        }

        if (line.Length > 0) yield return line;
    }

    private static SKTypeface Load()
    {
        using Stream file = typeof(SheetText).Assembly.GetManifestResourceStream("RobotoCondensed-Medium.ttf")!;
        return SKTypeface.FromStream(file) ?? throw new InvalidOperationException("The typeface cannot be read.");
    }
}
