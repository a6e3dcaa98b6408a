using System.CommandLine;
using CardScan.Scoring;

namespace CardScan.Cli;

/// <summary>The options that ask for tones of a picture.</summary>
internal sealed class ToneInput
{
    private readonly Option<double?> _tones = NumberOption.Create(
        "--tones", "Lightness steps for pictures: settings for so many even tones", n => n is >= ToneRequest.FewestSteps and <= ToneRequest.MostSteps && double.IsInteger(n), "a whole number from 2 to 64");

    private readonly Option<double?> _speed = NumberOption.Create(
        "--at-speed", "Make tones by power at this burned speed, mm/min (without it the fastest row of wide range)", speed => speed is > 0 and <= 1e6, "a burned speed in mm/min");

    private readonly Option<double?> _power = NumberOption.Create(
        "--at-power", "Make tones by speed at this burned power, percent", power => power is > 0 and <= 100, "a burned power in percent");

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[_tones, _speed, _power]) command.Options.Add(option);
        command.Validators.Add(result =>
        {
            bool hasSpeed = result.GetResult(_speed) is not null, hasPower = result.GetResult(_power) is not null;
            if ((hasSpeed || hasPower) && result.GetResult(_tones) is null) result.AddError($"{(hasSpeed ? "--at-speed" : "--at-power")} says where tones are made: give --tones with their number");
            if (hasSpeed && hasPower) result.AddError("--at-speed and --at-power are given both: tones are made by power at one speed, or by speed at one power");
        });
    }

    /// <summary>What was asked; null where no tones were.</summary>
    public ToneRequest? From(ParseResult parsed) => parsed.GetValue(_tones) is { } tones
        ? new((int)tones, parsed.GetValue(_speed), parsed.GetValue(_power))
        : null;
}
