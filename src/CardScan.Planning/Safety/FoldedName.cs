using System.Globalization;
using System.Text;

namespace CardScan.Planning;

/// <summary>What stands between two letters of a name.</summary>
internal enum NameGap : byte
{
    /// <summary>Nothing that is seen.</summary>
    None,

    /// <summary>A hyphen, a dot, an apostrophe and the like.</summary>
    Join,

    /// <summary>A space.</summary>
    Space,

    /// <summary>A comma, a slash and the like, which no name goes across; the two ends of the text.</summary>
    Stop,
}

/// <summary>A material's name as letters and digits alone, with what stood between them.</summary>
/// <remarks>
/// Accents, other forms of a letter and letters of other scripts that look like Latin ones are folded by the table
/// <c>letter-folds.txt</c>, since <see cref="string.Normalize()"/> leaves a text as it is under invariant globalization.
/// Cyrillic names are folded the same way, so that they still meet themselves. Every step is linear in the text's length.
/// </remarks>
internal sealed class FoldedName
{
    /// <summary>Nothing that is looked up as a word is longer.</summary>
    private const int LongestWord = 24;

    private static readonly Dictionary<Rune, string> Folds = ReadFolds();

    private readonly List<NameGap> _gaps = [];
    private readonly List<bool> _isAbbreviated = [];
    private readonly List<bool> _isUpper = [];
    private readonly List<char> _scripts = [];
    private readonly bool[] _edges, _bounds;
    private readonly int[] _wordStart, _wordEnd;
    private readonly int[] _joins, _spaces, _stops;

    private FoldedName(string raw)
    {
        Text = Collect(raw);
        IsAsked = raw.AsSpan().IndexOfAny("?？¿") >= 0;
        HasLower = _isUpper.Where((isUpper, at) => !isUpper && char.IsLetter(Text[at])).Any();
        (_edges, _bounds) = (new bool[Text.Length + 1], new bool[Text.Length + 1]);
        MarkEdges();
        MergeSpelled();
        (_joins, _spaces, _stops) = (Counts(NameGap.Join), Counts(NameGap.Space), Counts(NameGap.Stop));
        (_wordStart, _wordEnd) = (new int[Text.Length + 1], new int[Text.Length + 1]);
        for (int at = 1; at <= Text.Length; at++) _wordStart[at] = _bounds[at - 1] ? at - 1 : _wordStart[at - 1];
        _wordEnd[Text.Length] = Text.Length;
        for (int at = Text.Length - 1; at >= 0; at--) _wordEnd[at] = _bounds[at + 1] ? at + 1 : _wordEnd[at + 1];
    }

    /// <summary>Letters and digits, folded.</summary>
    internal string Text { get; }

    /// <summary>Its words, folded.</summary>
    internal IEnumerable<string> Words
    {
        get
        {
            for (int start = 0, end; start < Text.Length; start = end)
            {
                end = start + 1;
                while (end < Text.Length && !_edges[end]) end++;
                yield return Text[start..end];
            }
        }
    }

    /// <summary>Whether it asks something.</summary>
    internal bool IsAsked { get; }

    /// <summary>Whether a letter is written small, so that capitals tell something.</summary>
    internal bool HasLower { get; }

    /// <summary>Folds a name; any text will do.</summary>
    internal static FoldedName Of(string raw) => new(raw);

    /// <summary>A word may begin or end before this letter.</summary>
    internal bool IsEdge(int at) => _edges[at];

    /// <summary>A word certainly begins or ends before this letter.</summary>
    internal bool IsBound(int at) => _bounds[at];

    /// <summary>What stands before this letter.</summary>
    internal NameGap GapBefore(int at) => _gaps[at];

    /// <summary>A dot and a space stand before this letter, as after a shortened word.</summary>
    internal bool IsAbbreviated(int at) => _isAbbreviated[at];

    /// <summary>Whether all letters from here to there are capitals.</summary>
    internal bool IsUpper(int start, int end) => _isUpper.GetRange(start, end - start).TrueForAll(isUpper => isUpper);

    /// <summary>Whether all letters from here to there are small.</summary>
    internal bool IsLower(int start, int end) => !_isUpper.GetRange(start, end - start).Contains(true);

    /// <summary>Joins, spaces and stops between the letters from here to there.</summary>
    internal (int Joins, int Spaces, int Stops) Breaks(int start, int end) =>
        (_joins[end] - _joins[start + 1], _spaces[end] - _spaces[start + 1], _stops[end] - _stops[start + 1]);

    /// <summary>Where the word begins that ends before this letter, or whose letter it is the end of.</summary>
    internal int WordStart(int end) => _wordStart[end];

    /// <summary>Where the word ends that begins with this letter, or goes on with it.</summary>
    internal int WordEnd(int start) => _wordEnd[start];

    /// <summary>A piece as a word to look up; empty where it is too long for one.</summary>
    internal string Word(int start, int end) => end - start > LongestWord ? "" : Text[start..end];

    private static bool IsIdeograph(char c) => c >= '\u2e80';

    private string Collect(string raw)
    {
        StringBuilder text = new();
        NameGap gap = NameGap.Stop;
        bool hasDot = false, isAbbreviated = false;
        foreach (Rune rune in raw.EnumerateRunes())
        {
            string letters = Letters(rune);
            if (letters.Length == 0)
            {
                NameGap found = GapOf(rune);
                if (found == NameGap.Space && hasDot) isAbbreviated = true;
                if (found != NameGap.None) hasDot = rune.Value == '.';
                if (found > gap) gap = found;
                continue;
            }

            foreach (char letter in letters)
            {
                text.Append(letter);
                _gaps.Add(gap);
                _isAbbreviated.Add(isAbbreviated);
                _isUpper.Add(Rune.GetUnicodeCategory(rune) is UnicodeCategory.UppercaseLetter or UnicodeCategory.TitlecaseLetter);
                _scripts.Add(rune.Value is >= 0x370 and < 0x530 ? (char)(rune.Value >> 8) : ' ');
                (gap, hasDot, isAbbreviated) = (NameGap.None, false, false);
            }
        }

        _gaps.Add(NameGap.Stop);
        _isAbbreviated.Add(false);
        return text.ToString();
    }

    private static string Letters(Rune rune)
    {
        if (Folds.TryGetValue(rune, out string? fold)) return fold;
        Rune lower = Rune.ToLowerInvariant(rune);
        if (Folds.TryGetValue(lower, out fold)) return fold;
        return Rune.IsLetterOrDigit(lower) ? lower.ToString() : "";
    }

    private static NameGap GapOf(Rune rune) => Rune.GetUnicodeCategory(rune) switch
    {
        UnicodeCategory.NonSpacingMark or UnicodeCategory.SpacingCombiningMark or UnicodeCategory.EnclosingMark or UnicodeCategory.Format =>
            NameGap.None,
        UnicodeCategory.SpaceSeparator => NameGap.Space,
        UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator => NameGap.Stop,
        UnicodeCategory.Control => rune.Value switch { '\t' => NameGap.Space, '\n' or '\r' => NameGap.Stop, _ => NameGap.None },
        UnicodeCategory.MathSymbol => NameGap.Stop,
        _ => ",;:/\\&|!?，；：、。！？".Contains(rune.ToString(), StringComparison.Ordinal) ? NameGap.Stop : NameGap.Join,
    };

    private void MarkEdges()
    {
        for (int at = 0; at <= Text.Length; at++)
        {
            // The gap before the first letter and behind the last one is a stop, so no index is past an end.
            _bounds[at] = _gaps[at] != NameGap.None || char.IsDigit(Text[at]) != char.IsDigit(Text[at - 1])
                || IsIdeograph(Text[at]) || IsIdeograph(Text[at - 1]) || IsAfterUnit(at);
            _edges[at] |= _bounds[at];
            if (_edges[at]) continue;
            _edges[at] = _scripts[at] != _scripts[at - 1] || (_isUpper[at] && !_isUpper[at - 1]);
            // "PVCplatte" and "PVCPlatte": the capitals end at the small letter or one before.
            if (at >= 2 && !_isUpper[at] && _isUpper[at - 1] && _isUpper[at - 2]) _edges[at] = _edges[at - 1] = true;
        }
    }

    /// <summary>"3mmPVC"</summary>
    private bool IsAfterUnit(int at) => at >= 3 && Text[at - 1] == 'm' && Text[at - 2] is 'm' or 'c' && char.IsDigit(Text[at - 3]);

    /// <summary>"P.V.C." and "P V C" are one word; where it may end is left open.</summary>
    private void MergeSpelled()
    {
        for (int at = 1; at < Text.Length; at++)
        {
            if (IsSingle(at - 1) && IsSingle(at) && _gaps[at] is NameGap.Join or NameGap.Space) _bounds[at] = false;
        }

        for (int at = 1; at < Text.Length; at++)
        {
            if (!_bounds[at]) _gaps[at] = NameGap.None;
        }
    }

    private bool IsSingle(int at) =>
        char.IsLetter(Text[at]) && !IsIdeograph(Text[at]) && _gaps[at] != NameGap.None && _gaps[at + 1] != NameGap.None;

    private int[] Counts(NameGap kind)
    {
        int[] counts = new int[Text.Length + 2];
        for (int at = 0; at <= Text.Length; at++) counts[at + 1] = counts[at] + (_gaps[at] == kind ? 1 : 0);
        return counts;
    }

    /// <summary>A letter of any script in plain Latin ones, its case kept; null where there are none for it.</summary>
    internal static string? PlainLetters(Rune letter)
    {
        if (Folds.TryGetValue(letter, out string? plain)) return Rune.IsUpper(letter) ? plain.ToUpperInvariant() : plain;
        return Folds.TryGetValue(Rune.ToLowerInvariant(letter), out plain) ? plain.ToUpperInvariant() : null;
    }

    private static Dictionary<Rune, string> ReadFolds()
    {
        Dictionary<Rune, string> folds = [];
        foreach (string line in DataFile.Lines("letter-folds.txt").Where(line => line[0] != '#'))
        {
            string[] parts = line.Split(' ');
            foreach (Rune rune in parts[1].EnumerateRunes()) folds[rune] = parts[0];
        }

        return folds;
    }
}
