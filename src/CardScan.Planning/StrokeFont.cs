using System.Globalization;
using System.Text;

namespace CardScan.Planning;

/// <summary>
/// Letters made of single lines, for a beam to draw: no filling, the same on every screen and machine, and with a
/// width known to the layout. Capitals, digits, and the small letters of units.
/// </summary>
internal static class StrokeFont
{
    /// <summary>Height of a glyph, units.</summary>
    internal const double Height = 6;

    private const double Width = 4;

    /// <summary>From one glyph's left edge to the next one's, units.</summary>
    private const double Advance = 5.5;

    // Lines separated by '|'; every two digits are one point, x from 0 to 4 and y from 0 (top) to 6.
    private static readonly Dictionary<char, string> Glyphs = new()
    {
        ['0'] = "10 30 41 45 36 16 05 01 10", ['1'] = "11 20 26|16 36", ['2'] = "01 10 30 41 42 06 46",
        ['3'] = "01 10 30 41 42 33 44 45 36 16 05|23 33", ['4'] = "36 30 04 44", ['5'] = "40 00 02 32 43 45 36 16 05",
        ['6'] = "41 30 10 01 05 16 36 45 44 33 13 04", ['7'] = "00 40 16", ['8'] = "13 02 01 10 30 41 42 33 13 04 05 16 36 45 44 33",
        ['9'] = "05 16 36 45 41 30 10 01 02 13 33 42",
        ['A'] = "06 02 20 42 46|04 44", ['B'] = "03 00 30 41 42 33 03 06 36 45 44 33", ['C'] = "41 30 10 01 05 16 36 45",
        ['D'] = "00 20 42 44 26 06 00", ['E'] = "40 00 06 46|03 33", ['F'] = "40 00 06|03 33", ['G'] = "41 30 10 01 05 16 36 45 43 23",
        ['H'] = "00 06|40 46|03 43", ['I'] = "10 30|20 26|16 36", ['J'] = "40 45 36 16 05", ['K'] = "00 06|40 03 46", ['L'] = "00 06 46",
        ['M'] = "06 00 23 40 46", ['N'] = "06 00 46 40", ['O'] = "10 30 41 45 36 16 05 01 10", ['P'] = "06 00 30 41 42 33 03",
        ['Q'] = "10 30 41 45 36 16 05 01 10|34 46", ['R'] = "06 00 30 41 42 33 03|23 46", ['S'] = "41 30 10 01 02 13 33 44 45 36 16 05",
        ['T'] = "00 40|20 26", ['U'] = "00 05 16 36 45 40", ['V'] = "00 26 40", ['W'] = "00 16 23 36 40", ['X'] = "00 46|40 06",
        ['Y'] = "00 23 40|23 26", ['Z'] = "00 40 06 46",
        ['m'] = "06 02|03 12 23 26|23 32 43 46", ['i'] = "22 26|20 21", ['n'] = "06 02|03 12 32 43 46",
        ['%'] = "40 06|00 10 11 01 00|35 45 46 36 35", ['/'] = "40 06",
        ['.'] = "25 26", ['-'] = "13 33", ['+'] = "13 33|22 24", [','] = "25 26 17",
    };

    /// <summary>Width of a text, units.</summary>
    internal static double WidthOf(string text) => text.Length * Advance - (Advance - Width);

    /// <summary>True where every character can be drawn.</summary>
    internal static bool CanDraw(string text) => text.All(c => c == ' ' || Glyphs.ContainsKey(c));

    /// <summary>A text as it can be drawn: capitals for small letters that are missing, gaps for signs that are.</summary>
    internal static string Drawable(string text) => string.Concat(text.Select(c =>
        Glyphs.ContainsKey(c) ? c : Glyphs.ContainsKey(char.ToUpperInvariant(c)) ? char.ToUpperInvariant(c) : ' '));

    /// <summary>
    /// The lines of a text whose top left corner is at the origin, x right and y down, units; each a path through its points.
    /// </summary>
    /// <param name="text">Only characters that can be drawn.</param>
    internal static IEnumerable<(double X, double Y)[]> LinesOf(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] == ' ') continue;
            foreach (string line in Glyphs[text[i]].Split('|'))
                yield return [.. line.Split(' ').Select(point => (i * Advance + point[0] - '0', (double)(point[1] - '0')))];
        }
    }

    /// <summary>SVG path data of a text whose top left corner is at the origin.</summary>
    /// <param name="text">Only characters that can be drawn.</param>
    /// <param name="unitMm">Millimetres a unit.</param>
    internal static string PathOf(string text, double unitMm)
    {
        StringBuilder path = new();
        foreach ((double X, double Y)[] line in LinesOf(text))
            path.Append('M').AppendJoin('L', line.Select(Place));
        return path.ToString();

        string Place((double X, double Y) point) =>
            string.Create(CultureInfo.InvariantCulture, $"{point.X * unitMm:0.###} {point.Y * unitMm:0.###}");
    }
}
