using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>A profile in a line: name, kind, and the values that matter most; what it does not tell is left out.</summary>
internal static class ProfileLine
{
    public static string Of(KeptProfile profile) => Voice.Tell(profile.InWords);

    /// <summary>Everything that a profile tells, value by value, in the order of its options.</summary>
    public static IEnumerable<(string Field, Figure Value)> Fields(KeptProfile profile) =>
        Figures.Known(profile.Machine is { } machine ? OfMachine(machine.Content) : OfMaterial(profile.Material!.Content));

    private static (string, Figure?)[] OfMachine(Machine machine) =>
    [
        ("name", machine.Name),
        ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
        ("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null),
        ("area", machine.WorkArea is { } area ? Pair("terminal.profile-pair", Mm(area.WidthMm), Mm(area.HeightMm)) : null),
        ("feed", machine.FastestFeedMmPerMin is { } feed ? Speed(feed) : null),
        ("full-power", machine.FullPowerS is { } s ? In(Unit.None, s) : null),
        ("mode", machine.BeamMode is { } mode ? new Phrase("terminal.profile-mode", ("follows", Is(mode == BeamMode.FollowsSpeed))) : null),
        ("beam", machine is { BeamXMm: { } x, BeamYMm: { } y } ? Pair("terminal.profile-pair", Mm(x), Mm(y)) : null),
        ("acceleration", machine.AccelerationMmPerS2 is { } acceleration ? In(Unit.MmPerS2, acceleration) : null),
        ("z", machine.PoweredZ is { } z
            ? Pair("terminal.profile-travel", In(Unit.OffsetMm, z.LowestMm), In(Unit.OffsetMm, z.HighestMm))
            : null),
    ];

    private static (string, Figure?)[] OfMaterial(Material material) =>
    [
        ("name", material.Name),
        ("thickness", material.ThicknessMm is { } mm ? Mm(mm) : null),
        ("batch", Figures.Text(material.Batch)),
        ("mark", material.Mark is { } mark ? new SettingFigure(mark.SpeedMmPerMin, mark.PowerPercent) : null),
        ("notes", Figures.Text(material.Notes)),
    ];

    private static Phrase Pair(string code, Number first, Number second) => new(code, ("first", first), ("second", second));
}
