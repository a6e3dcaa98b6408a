using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that describe a machine; each overrides what the machine's profile says.</summary>
internal sealed class MachineOptions
{
    private readonly Option<double?> _watts = NumberOption.Create("--watts", "OPTICAL power at 100 %, watts: what leaves the lens, not what the supply draws", w => w is > 0 and <= 100_000, "a number of watts above 0");
    private readonly Option<double?> _wavelength = NumberOption.Create("--wavelength", "Wavelength, nm (blue diode about 450, fibre 1064, CO2 10600)", nm => nm is >= 150 and <= 12_000, "150 to 12000 nm");
    private readonly Option<CardSize?> _area = SizeOption.Create("--area", "Work area, mm");
    private readonly Option<double?> _fastest = NumberOption.Create("--fastest-feed", "Fastest safe feed, mm/min", v => v is >= 1 and <= 1_000_000, "1 to 1000000 mm/min");
    private readonly Option<double?> _fullPower = NumberOption.Create("--full-power-s", "S value that the controller takes for full power", s => s is >= 1 and <= 1_000_000, "1 to 1000000");
    private readonly Option<string?> _mode = new("--beam-mode") { Description = "constant: M3, the same power at any speed; follows-speed: M4, where the controller has a laser mode (default constant)", HelpName = "constant|follows-speed" };
    private readonly Option<CardSize?> _beam = SizeOption.Create("--beam", "Width of the beam in the focus along x and along y, mm");
    private readonly Option<double?> _acceleration = NumberOption.Create("--acceleration", "Acceleration, mm/s²", a => a is >= 1 and <= 1_000_000, "1 to 1000000 mm/s²");
    private readonly Option<ZTravel?> _poweredZ = new("--powered-z") { Description = "Only where the machine moves the focus itself: how far down and up, mm, --powered-z=-5:20", HelpName = "down:up" };

    public MachineOptions()
    {
        _mode.AcceptOnlyFromAmong("constant", "follows-speed");
        _poweredZ.CustomParser = ParseTravel;
    }

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All => [_watts, _wavelength, _area, _fastest, _fullPower, _mode, _beam, _acceleration, _poweredZ];

    /// <summary>A machine with what was given on the command line in place of what it had.</summary>
    /// <param name="name">Name of a machine that has no profile.</param>
    /// <param name="profile">The profile, or null.</param>
    /// <param name="parsed">The command line.</param>
    /// <returns>The machine, or null where nobody told its watts.</returns>
    public Machine? Over(string name, Machine? profile, ParseResult parsed)
    {
        if ((parsed.GetValue(_watts) ?? profile?.RatedOpticalWatts) is not { } watts) return null;
        Machine basis = profile ?? new() { Name = name, RatedOpticalWatts = watts };
        CardSize? beam = parsed.GetValue(_beam);
        return basis with
        {
            RatedOpticalWatts = watts,
            WavelengthNm = parsed.GetValue(_wavelength) ?? basis.WavelengthNm,
            WorkArea = parsed.GetValue(_area) ?? basis.WorkArea,
            FastestFeedMmPerMin = parsed.GetValue(_fastest) ?? basis.FastestFeedMmPerMin,
            FullPowerS = parsed.GetValue(_fullPower) ?? basis.FullPowerS,
            BeamMode = parsed.GetValue(_mode) switch { "constant" => BeamMode.Constant, "follows-speed" => BeamMode.FollowsSpeed, _ => basis.BeamMode },
            BeamXMm = beam?.WidthMm ?? basis.BeamXMm,
            BeamYMm = beam?.HeightMm ?? basis.BeamYMm,
            AccelerationMmPerS2 = parsed.GetValue(_acceleration) ?? basis.AccelerationMmPerS2,
            PoweredZ = parsed.GetValue(_poweredZ) ?? basis.PoweredZ,
        };
    }

    private static ZTravel? ParseTravel(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        string[] parts = text.Split(':');
        if (parts.Length == 2 && IsNumber(parts[0], out double low) && IsNumber(parts[1], out double high) && low <= 0 && high >= 0) return new() { LowestMm = low, HighestMm = high };
        result.AddError($"--powered-z has \"{text}\": give how far the focus can go down and up from the surface in mm, for instance --powered-z=-5:20");
        return null;
    }

    private static bool IsNumber(string text, out double value) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
