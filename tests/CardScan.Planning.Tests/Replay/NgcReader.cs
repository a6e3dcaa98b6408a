using System.Globalization;

namespace CardScan.Planning.Tests;

/// <summary>
/// Runs a program of RS-274/NGC words. Written from T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274NGC
/// Interpreter - Version 3", NISTIR 6556 (2000): lines and words 3.3, modal groups 3.4, order of execution 3.8, program end
/// 3.6.1. Whatever the report calls an error throws; words that no card needs are errors as well.
/// </summary>
internal sealed class NgcReader
{
    private static readonly int[] KnownG = [0, 1, 4, 17, 20, 21, 90, 94];
    private static readonly int[] KnownM = [0, 2, 3, 4, 5, 7, 8, 9, 30];

    private readonly List<NgcMotion> _motions = [];
    private readonly List<(Spot, int)> _pauses = [];
    private readonly List<string> _messages = [];
    private readonly List<string> _comments = [];
    private readonly List<double> _dwells = [];
    private readonly List<(int, int)> _air = [];
    private Spot _at;
    private double? _feed, _unit;
    private double _s;
    private int _mode = 5, _modeAtEnd = 5;
    private int? _motion;
    private bool _isAbsolute, _hasEnded;

    internal static NgcRun Run(string program)
    {
        NgcReader reader = new();
        string[] lines = program.Split('\n');
        Assert.Equal("", lines[^1]);
        foreach (string line in lines[..^1]) reader.Execute(line);
        return new(reader._motions, reader._pauses, reader._messages, reader._comments, reader._modeAtEnd, reader._hasEnded,
            reader._dwells, reader._air);
    }

    private void Execute(string line)
    {
        if (_hasEnded) throw Error(line, "stands behind the program's end");
        if (line.Length > 256) throw Error(line, "is longer than 256 characters");
        List<(char Letter, double Value)> words = Words(line);
        int[] g = [.. words.Where(word => word.Letter == 'G').Select(word => Whole(word.Value, line))],
            m = [.. words.Where(word => word.Letter == 'M').Select(word => Whole(word.Value, line))];
        CheckGroups(line, g, m, words);

        // 3.8: feed, S, M3 to M5, M7 to M9, dwell, units, distance mode, motion, stop.
        if (Word('F') is { } f) _feed = f > 0 ? f : throw Error(line, "has a feed of 0");
        if (Word('S') is { } s) _s = s >= 0 ? s : throw Error(line, "has a negative S");
        foreach (int code in m.Where(code => code is 3 or 4 or 5)) _mode = code;
        foreach (int code in m.Where(code => code is 7 or 8 or 9)) _air.Add((code, _motions.Count));
        if (g.Contains(4)) _dwells.Add(Word('P') is >= 0 and double p ? p : throw Error(line, "has a dwell without a time"));
        if (g.Contains(20)) _unit = 25.4;
        if (g.Contains(21)) _unit = 1;
        if (g.Contains(90)) _isAbsolute = true;
        foreach (int code in g.Where(code => code is 0 or 1)) _motion = code;
        if (words.Any(word => word.Letter is 'X' or 'Y' or 'Z')) Move(line, Word);
        else if (g.Any(code => code is 0 or 1)) throw Error(line, "has a motion without an axis word");
        foreach (int code in m) Stop(code);

        double? Word(char letter) => words.Where(word => word.Letter == letter).Select(word => (double?)word.Value).FirstOrDefault();
    }

    private void Move(string line, Func<char, double?> word)
    {
        if (_unit is not { } unit || !_isAbsolute) throw Error(line, "moves before units and distance mode are stated");
        Spot to = new((word('X') * unit) ?? _at.X, (word('Y') * unit) ?? _at.Y, (word('Z') * unit) ?? _at.Z);
        bool isRapid = _motion switch { 0 => true, 1 => false, _ => throw Error(line, "moves without a motion mode") };
        if (!isRapid && _feed is null) throw Error(line, "is a feed move without a feed");
        _motions.Add(new(_at, to, isRapid, (_feed ?? 0) * unit, _s, _mode));
        _at = to;
    }

    private void Stop(int code)
    {
        if (code == 0) _pauses.Add((_at, _mode));
        if (code is not (2 or 30)) return;
        _modeAtEnd = _mode;
        (_mode, _hasEnded) = (5, true);
    }

    private static void CheckGroups(string line, int[] g, int[] m, List<(char Letter, double Value)> words)
    {
        if (g.Except(KnownG).Any() || m.Except(KnownM).Any()) throw Error(line, "has a code that is not known");
        if (g.Count(code => code is 0 or 1) > 1 || g.Count(code => code is 20 or 21) > 1)
            throw Error(line, "has two G words of one modal group");
        if (m.Count(code => code is 3 or 4 or 5) > 1 || m.Count(code => code is 0 or 2 or 30) > 1 || m.Length > 4)
            throw Error(line, "has two M words of one modal group");
        if (words.Where(word => word.Letter is not ('G' or 'M')).GroupBy(word => word.Letter).Any(group => group.Count() > 1))
            throw Error(line, "has a letter twice");
        if (words.Any(word => !"GMXYZFSP".Contains(word.Letter))) throw Error(line, "has a letter that is not known");
    }

    /// <summary>3.3: spaces count for nothing outside comments; a number has digits and at most one point, and no exponent.</summary>
    private List<(char Letter, double Value)> Words(string line)
    {
        List<(char, double)> words = [];
        int i = 0;
        while (i < line.Length)
        {
            char c = line[i];
            if (c is ' ' or '\t')
            {
                i++;
            }
            else if (c == '(')
            {
                i = Comment(line, i);
            }
            else
            {
                if (!char.IsAsciiLetter(c)) throw Error(line, $"has '{c}' where a word should begin");
                int end = i + 1;
                while (end < line.Length && (char.IsAsciiDigit(line[end]) || line[end] is '.' or '-' or '+')) end++;
                if (!double.TryParse(line.AsSpan(i + 1, end - i - 1), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
                    CultureInfo.InvariantCulture, out double value))
                    throw Error(line, $"has {char.ToUpperInvariant(c)} without a number");
                words.Add((char.ToUpperInvariant(c), value));
                i = end;
            }
        }

        return words;
    }

    private int Comment(string line, int start)
    {
        int end = line.IndexOf(')', start);
        if (end < 0) throw Error(line, "has a comment without an end");
        string text = line[(start + 1)..end];
        if (text.Contains('(', StringComparison.Ordinal)) throw Error(line, "has a comment inside a comment");
        if (text.Any(c => c is < ' ' or > '~')) throw Error(line, "has a character that is not ASCII");
        bool isMessage = text.TrimStart().StartsWith("MSG,", StringComparison.OrdinalIgnoreCase);
        (isMessage ? _messages : _comments).Add(text);
        return end + 1;
    }

    private static int Whole(double value, string line) =>
        double.IsInteger(value) ? (int)value : throw Error(line, "has a code with decimals");

    private static FormatException Error(string line, string what) => new($"\"{line}\" {what}");
}
