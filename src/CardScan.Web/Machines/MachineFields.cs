using CardScan.Model;

namespace CardScan.Web;

/// <summary>The fields that describe a machine; each rules over what the machine's profile says.</summary>
internal static class MachineFields
{
    private static readonly string[] Modes = ["constant", "follows-speed", "from-rest"], Switches = ["by-hand", "m7", "m8"];

    private static readonly string[] Typed =
        ["watts", "wavelength", "fastest-feed", "area", "full-power-s", "beam", "acceleration", "powered-z"];

    /// <summary>A machine with what was typed in place of what it had.</summary>
    /// <param name="name">Name of a machine that has no profile.</param>
    /// <param name="profile">The profile; null where there is none.</param>
    /// <param name="typed">The fields.</param>
    /// <returns>The machine; null where its watts are not known.</returns>
    public static Machine? Over(string name, Machine? profile, TypedFields typed)
    {
        CardSize? beam = typed.Size("beam");
        double? watts = typed.Number("watts") ?? profile?.RatedOpticalWatts;
        Machine basis = profile ?? new() { Name = name, RatedOpticalWatts = watts ?? 0 };
        Machine machine = basis with
        {
            RatedOpticalWatts = watts ?? 0,
            WavelengthNm = typed.Number("wavelength") ?? basis.WavelengthNm,
            WorkArea = typed.Size("area") ?? basis.WorkArea,
            FastestFeedMmPerMin = typed.Number("fastest-feed") ?? basis.FastestFeedMmPerMin,
            FullPowerS = typed.Number("full-power-s") ?? basis.FullPowerS,
            BeamMode = typed.Word("beam-mode", Modes) is { } mode ? (BeamMode)Array.IndexOf(Modes, mode) : basis.BeamMode,
            BeamXMm = beam?.WidthMm ?? basis.BeamXMm,
            BeamYMm = beam?.HeightMm ?? basis.BeamYMm,
            AccelerationMmPerS2 = typed.Number("acceleration") ?? basis.AccelerationMmPerS2,
            PoweredZ = typed.Travel("powered-z") ?? basis.PoweredZ,
            AirSwitch = typed.Word("air-switch", Switches) is { } by ? (AirSwitch)Array.IndexOf(Switches, by) : basis.AirSwitch,
        };
        return watts is null ? null : machine;
    }

    /// <summary>The three that every machine needs.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="known">What stands in for what is not typed; null where nothing does.</param>
    public static XElement[] First(TypedFields typed, Machine? known) => Fields(typed, known, "watts", "wavelength", "fastest-feed");

    /// <summary>The others: those of the machine file, then what makes the times and the lines better known.</summary>
    public static XElement[] Others(TypedFields typed, Machine? known) =>
    [
        .. Fields(typed, known, "area", "full-power-s"),
        Field.Choice("beam-mode", typed.Text("beam-mode"),
            Words("beam-mode", Modes, known?.BeamMode is { } mode ? Modes[(int)mode] : null)),
        .. Fields(typed, known, "beam", "acceleration", "powered-z"),
        Field.Choice("air-switch", typed.Text("air-switch"),
            Words("air-switch", Switches, known?.AirSwitch is { } by ? Switches[(int)by] : null)),
    ];

    /// <summary>What each field is taken as where it is left empty.</summary>
    public static IEnumerable<XElement> Taken(Machine machine) =>
        Typed.Select(name => Field.Taken(name, TextOf(name, machine) ?? ""));

    private static XElement[] Fields(TypedFields typed, Machine? known, params string[] names) =>
        [.. names.Select(name => Field.Told(name, typed.Text(name), known is null ? null : TextOf(name, known)))];

    private static (string, string)[] Words(string name, string[] words, string? kept) =>
    [
        ("", Voice.Say("web.choice", ("of", kept is null ? $"{name}-none" : kept))),
        .. words.Select(word => (word, Voice.Say("web.choice", ("of", word)))),
    ];

    private static string? TextOf(string name, Machine machine) => name switch
    {
        "watts" => Voice.Tell(In(Unit.Watts, machine.RatedOpticalWatts)),
        "wavelength" => machine.WavelengthNm is { } nm ? Voice.Tell(In(Unit.Nm, nm)) : null,
        "fastest-feed" => machine.FastestFeedMmPerMin is { } feed ? Voice.Tell(Speed(feed)) : null,
        "area" => machine.WorkArea is { } area ? SizeText(area.WidthMm, area.HeightMm) : null,
        "full-power-s" => machine.FullPowerS is { } s ? Voice.Tell(Given(s)) : null,
        "beam" => machine is { BeamXMm: { } x, BeamYMm: { } y } ? SizeText(x, y) : null,
        "acceleration" => machine.AccelerationMmPerS2 is { } acceleration ? Voice.Tell(In(Unit.MmPerS2, acceleration)) : null,
        _ => machine.PoweredZ is { } z ? $"{Voice.Tell(Given(z.LowestMm))}:{Voice.Tell(Given(z.HighestMm))}" : null,
    };

    /// <summary>As it is typed: 120x100.</summary>
    public static string SizeText(double widthMm, double heightMm) => $"{Voice.Tell(Given(widthMm))}x{Voice.Tell(Given(heightMm))}";
}
