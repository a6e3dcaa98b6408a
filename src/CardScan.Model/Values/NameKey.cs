using System.Globalization;
using System.Text.RegularExpressions;

namespace CardScan.Model;

/// <summary>What a name says, however it was typed: names of one key are likely one thing, and nobody but the maker knows.</summary>
public static partial class NameKey
{
    private const double MmPerInch = 25.4;

    [GeneratedRegex(@"(?<![\p{L}\p{N}.,-])(?<value>[0-9]+(?:\.[0-9]+)?)\s*(?<unit>mm|in|"")(?![\p{L}\p{N}])",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Thickness { get; }

    [GeneratedRegex(@"[^\p{L}\p{N}]+", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Gap { get; }

    /// <summary>
    /// The key: without capitals, spaces, signs, plurals and a thickness; "ply" is plywood. "Birch Ply 3mm" and "birch plywood"
    /// have the same.
    /// </summary>
    /// <param name="name">The name.</param>
    public static string Of(string name) => string.Concat(Words(WithoutThickness(name)).Select(word => word == "ply" ? "plywood" : word));

    /// <summary>The words of a text as the search finds them in every spelling that has the same key.</summary>
    /// <param name="text">The text.</param>
    public static string Searched(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            .Select(word => word.ToLowerInvariant() is "plywood" or "plywoods" ? "ply" : Singular(word)));
    }

    /// <summary>The thickness that a text names, mm; null where it names none or several.</summary>
    /// <param name="text">The text: "birch 3 mm".</param>
    public static double? ThicknessMm(string text) =>
        Thickness.Matches(text) is [var only]
            && double.Parse(only.Groups["value"].ValueSpan, CultureInfo.InvariantCulture) is > 0 and var value
            ? only.Groups["unit"].Value.Equals("mm", StringComparison.OrdinalIgnoreCase) ? value : value * MmPerInch
            : null;

    /// <summary>A text without the thickness that it names.</summary>
    /// <param name="text">The text.</param>
    public static string WithoutThickness(string text) => ThicknessMm(text) is null ? text : Thickness.Replace(text, " ").Trim();

    private static IEnumerable<string> Words(string text) =>
        Gap.Split(text.ToLowerInvariant()).Where(word => word.Length > 0).Select(Singular);

    /// <summary>"boards" is "board"; "brass" and "abs" stay.</summary>
    private static string Singular(string word) =>
        word.Length > 3 && word[^1] is 's' or 'S' && word[^2] is not ('s' or 'S') ? word[..^1] : word;
}
