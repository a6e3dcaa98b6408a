using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>A profile in a line: name, kind, and the values that matter most; what it does not tell is left out.</summary>
internal static class ProfileLine
{
    public static string Of(Machine machine) => Voice.Say("terminal.profile-machine", Figures.Known(
        ("name", machine.Name),
        ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
        ("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null),
        ("width", machine.WorkArea is { } area ? Mm(area.WidthMm) : null),
        ("height", machine.WorkArea is { } same ? Mm(same.HeightMm) : null),
        ("feed", machine.FastestFeedMmPerMin is { } feed ? Speed(feed) : null),
        ("full-power", machine.FullPowerS is { } s ? In(Unit.None, s) : null),
        ("follows", Is(machine.BeamMode is BeamMode.FollowsSpeed))));

    public static string Of(Material material) => Voice.Say("terminal.profile-material", Figures.Known(
        ("name", material.Name),
        ("thickness", material.ThicknessMm is { } mm ? Mm(mm) : null),
        ("batch", Figures.Text(material.Batch)),
        ("mark", material.Mark is { } mark ? new SettingFigure(mark.SpeedMmPerMin, mark.PowerPercent) : null)));
}
