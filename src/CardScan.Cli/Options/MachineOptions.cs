using System.CommandLine;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that describe a machine; each overrides what the machine's profile says.</summary>
internal sealed class MachineOptions
{
    private readonly Option<double?> _watts = NumberOption.Create("--watts");
    private readonly Option<double?> _wavelength = NumberOption.Create("--wavelength");
    private readonly Option<CardSize?> _area = SizeOption.Create("--area");
    private readonly Option<double?> _fastest = NumberOption.Create("--fastest-feed");
    private readonly Option<double?> _fullPower = NumberOption.Create("--full-power-s");
    private readonly Option<string?> _mode = new("--beam-mode")
    {
        Description = Voice.Say("option.beam-mode"), HelpName = OptionText.Placeholder("mode"),
    };
    private readonly Option<CardSize?> _beam = SizeOption.Create("--beam");
    private readonly Option<double?> _acceleration = NumberOption.Create("--acceleration");
    private readonly Option<ZTravel?> _poweredZ = new("--powered-z")
    {
        Description = Voice.Say("option.powered-z"), HelpName = OptionText.Placeholder("travel"),
    };

    private readonly Option<string?> _airSwitch = new("--air-switch")
    {
        Description = Voice.Say("option.air-switch"), HelpName = "by-hand|m7|m8",
    };

    public MachineOptions()
    {
        _mode.AcceptOnlyFromAmong("constant", "follows-speed", "from-rest");
        _airSwitch.AcceptOnlyFromAmong("by-hand", "m7", "m8");
        _poweredZ.CustomParser = ParseTravel;
    }

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All =>
        [_watts, _wavelength, _area, _fastest, _fullPower, _mode, _beam, _acceleration, _poweredZ, _airSwitch];

    /// <summary>A machine with what was given on the command line in place of what it had.</summary>
    /// <param name="name">Name of a machine that has no profile.</param>
    /// <param name="profile">The profile, or null.</param>
    /// <param name="parsed">The command line.</param>
    /// <returns>The machine, or null where its watts are not known.</returns>
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
            BeamMode = parsed.GetValue(_mode) switch
            {
                "constant" => BeamMode.Constant,
                "follows-speed" => BeamMode.FollowsSpeed,
                "from-rest" => BeamMode.FromRest,
                _ => basis.BeamMode,
            },
            BeamXMm = beam?.WidthMm ?? basis.BeamXMm,
            BeamYMm = beam?.HeightMm ?? basis.BeamYMm,
            AccelerationMmPerS2 = parsed.GetValue(_acceleration) ?? basis.AccelerationMmPerS2,
            PoweredZ = parsed.GetValue(_poweredZ) ?? basis.PoweredZ,
            AirSwitch = parsed.GetValue(_airSwitch) switch
            {
                "by-hand" => AirSwitch.ByHand,
                "m7" => AirSwitch.M7,
                "m8" => AirSwitch.M8,
                _ => basis.AirSwitch,
            },
        };
    }

    private static ZTravel? ParseTravel(ArgumentResult result)
    {
        Outcome<ZTravel> travel = OptionValue.Travel("--powered-z", result.Tokens[0].Value);
        if (!travel.IsRefused) return travel.Value;
        result.AddError(travel.Refusal!.ToString());
        return null;
    }
}
