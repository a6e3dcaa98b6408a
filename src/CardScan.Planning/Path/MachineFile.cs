using System.Globalization;
using System.Text;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Writes a job in the words of RS-274/NGC.</summary>
/// <remarks>
/// Absolute millimetres, units per minute, xy plane. The beam is off (M5) before every travel, pause and the end; it is
/// switched on with S0 and burns only on feed moves. Words and their order of execution: T. R. Kramer, F. M. Proctor,
/// E. Messina, The NIST RS274NGC Interpreter, Version 3, NISTIR 6556 (2000), sections 3.3 to 3.8. That S stands for power,
/// and M4 for power that follows the speed, is common practice and not in that report: hence the machine's own
/// S value and mode in its profile.
/// </remarks>
internal sealed class MachineFile
{
    /// <summary>Some controllers take no longer lines than this (common practice, no source); the report allows 256.</summary>
    private const int LongestComment = 68;

    private readonly StringBuilder _text = new();
    private readonly Machine _machine;
    private double _focusMm;
    private bool _endsAir;

    private MachineFile(Machine machine) => _machine = machine;

    internal static string Of(Plan plan, BurnJob job, BurnEstimate estimate)
    {
        MachineFile file = new(plan.Machine);
        foreach (string sentence in MachineFileHeader.Of(plan, job, estimate)) file.Comment(sentence);
        file.Lines("G21", "G90", "G94", "G17", "M5", "S0");
        if (plan.Fixed.AirAssist is { } air) file.Switch(air);
        foreach (Piece piece in job.Pieces) file.Burn(piece);
        file.End();
        return file._text.ToString();
    }

    /// <summary>A program that is no card: what its head says, then its lines.</summary>
    internal static string Of(Machine machine, IEnumerable<string> head, IEnumerable<string> lines)
    {
        MachineFile file = new(machine);
        foreach (string sentence in head) file.Comment(sentence);
        foreach (string line in lines) file.Line(line);
        return file._text.ToString();
    }

    /// <summary>Nothing is written for a machine whose air a hand switches: the header says what to do.</summary>
    private void Switch(AirAssist air)
    {
        _endsAir = _machine.AirSwitch is AirSwitch.M7 or AirSwitch.M8;
        if (_endsAir) Line(air.IsOn ? $"{_machine.AirSwitch}" : "M9");
    }

    private void Burn(Piece piece)
    {
        Comment(piece.Name);
        foreach ((double pause, double focus) in piece.Runs())
        {
            if (pause > 0) Line($"G4 P{Exact(pause)}");
            foreach (Stroke stroke in piece.Strokes)
            {
                Line($"G0 {Place(stroke.Start)}");
                FocusAt(focus);
                Run(stroke, piece);
            }
        }
    }

    private void Run(Stroke stroke, Piece piece)
    {
        string on = $"S{Exact(piece.PowerPercent / 100 * _machine.FullPowerS!.Value)}";
        string feed = $" F{Exact(piece.SpeedMmPerMin)}";
        // Where a switched beam stops the machine, power never changes while it moves.
        bool isOnFromRest = _machine.BeamMode == BeamMode.FromRest;
        Line(isOnFromRest ? $"M3 {on}" : _machine.BeamMode == BeamMode.FollowsSpeed ? "M4 S0" : "M3 S0");
        foreach (Segment segment in stroke.Segments)
        {
            Line($"G1 {Place(segment.To)}{feed}{(isOnFromRest ? "" : segment.IsOn ? $" {on}" : " S0")}");
            feed = "";
        }

        Line("M5");
    }

    /// <summary>
    /// By the Z axis where the machine has one; else the job waits over the place that is burned next, still bare, for a hand.
    /// </summary>
    private void FocusAt(double offsetMm)
    {
        if (offsetMm == _focusMm) return;
        if (_machine.PoweredZ is not null)
        {
            Line($"G0 Z{Exact(offsetMm)}");
            _focusMm = offsetMm;
            return;
        }

        foreach (double place in HandFocus.Turns(_focusMm, offsetMm)) TurnTo(place);
    }

    private void TurnTo(double offsetMm)
    {
        double turn = offsetMm - _focusMm;
        string words = Voice.Say("planning.machine-file.turn",
            ("turn", Mm(Math.Abs(turn))), ("way", turn > 0 ? "up" : "down"),
            ("place", offsetMm == 0 ? "surface" : offsetMm < 0 ? "below" : "above"), ("offset", Mm(Math.Abs(offsetMm))));
        Line($"(MSG, {Plain(words)})");
        Line("M0");
        _focusMm = offsetMm;
    }

    /// <summary>The next job begins with the focus on the surface; a hand turns it there away from what was burned last.</summary>
    private void End()
    {
        Lines("M5", "S0");
        if (_machine.PoweredZ is not null) FocusAt(0);
        Line("G0 X0 Y0");
        FocusAt(0);
        if (_endsAir) Line("M9");
        Lines("M5", "M2");
    }

    /// <summary>A comment, on as many lines as it needs; what a maker wrote cannot end it or begin anything.</summary>
    private void Comment(string text)
    {
        StringBuilder line = new();
        IEnumerable<string> words = Plain(text).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        foreach (string word in words.SelectMany(word => word.Chunk(LongestComment)).Select(chunk => new string(chunk)))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > LongestComment)
            {
                Line($"({line})");
                line.Clear();
            }

            line.Append(line.Length > 0 ? " " : "").Append(word);
        }

        if (line.Length > 0) Line($"({line})");
    }

    /// <summary>
    /// In plain letters. Many controllers act on !, ? and ~ at once, wherever they stand, and on every byte above 127 (from
    /// memory).
    /// </summary>
    private static string Plain(string text) => string.Concat(text.EnumerateRunes().Select(rune => rune.Value switch
    {
        '(' or '[' => "<",
        ')' or ']' => ">",
        ';' => ",",
        '!' or '?' => ".",
        '~' or '−' or '–' => "-",
        '%' => " ",
        >= ' ' and < '~' => rune.ToString(),
        _ => FoldedName.PlainLetters(rune) ?? "_",
    }));

    internal static string Place(MachinePoint point) => $"X{Coordinate(point.XMm)} Y{Coordinate(point.YMm)}";

    // Adding zero turns −0 into 0.
    private static string Coordinate(double mm) => (Math.Round(mm, 3) + 0.0).ToString("0.###", CultureInfo.InvariantCulture);

    internal static string Exact(double value) => (Math.Round(value, 5) + 0.0).ToString("0.#####", CultureInfo.InvariantCulture);

    private void Lines(params ReadOnlySpan<string> lines)
    {
        foreach (string line in lines) Line(line);
    }

    private void Line(string line) => _text.Append(line).Append('\n');
}
