using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Tones;

/// <summary>Why there are no tones, or fewer than were asked for.</summary>
internal static class ToneMessages
{
    public static Advice OfACut() => new(Codes.NoTones, ("why", "cut"));

    public static Advice TooNarrow(ToneLine line, double span) =>
        new(Codes.NoTones, ("why", "narrow"), ("at", HeldOf(line)), ("span", In(Unit.Lightness, span)));

    public static Advice Fewer(ToneLine line, int told, int asked, double span) => new(Codes.FewerTones,
        ("told", told), ("asked", asked), ("at", HeldOf(line)), ("apart", In(Unit.Lightness, span / (asked - 1))));

    /// <summary>No line of cells differs in one setting alone; the values that might be named are those of the other setting.</summary>
    public static Advice NoLine(Reading scored, ToneRequest request)
    {
        bool isBySpeed = request.AtPowerPercent is null;
        IEnumerable<double> tested = scored.Cells.Select(cell => isBySpeed ? cell.Settings.SpeedMmPerMin : cell.Settings.PowerPercent);
        (string, Figure)[] values =
        [
            ("why", "line"),
            ("axis", isBySpeed ? "speed" : "power"),
            ("values", List(tested.Distinct().Order().Select(value => isBySpeed ? Speed(value) : In(Unit.None, value)))),
        ];
        return new(Codes.NoTones, request switch
        {
            { AtSpeedMmPerMin: { } speed } => [.. values, ("at", Speed(speed))],
            { AtPowerPercent: { } power } => [.. values, ("at", Power(power))],
            _ => values,
        });
    }

    private static Number HeldOf(ToneLine line) =>
        line.Setting == Setting.PowerPercent ? Speed(line.Held.SpeedMmPerMin) : Power(line.Held.PowerPercent);
}
