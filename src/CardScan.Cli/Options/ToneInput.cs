using System.CommandLine;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The options that ask for tones of a picture.</summary>
internal sealed class ToneInput
{
    private readonly Option<double?> _tones =
        NumberOption.Create("--tones", NumberRange.Whole(ToneRequest.FewestSteps, ToneRequest.MostSteps));

    private readonly Option<double?> _speed = NumberOption.Create("--at-speed", NumberRange.Positive(1e6, Unit.MmPerMin));

    private readonly Option<double?> _power = NumberOption.Create("--at-power", NumberRange.Positive(100, Unit.Percent));

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[_tones, _speed, _power]) command.Options.Add(option);
        command.Validators.Add(result =>
        {
            bool hasSpeed = result.GetResult(_speed) is not null, hasPower = result.GetResult(_power) is not null;
            if ((hasSpeed || hasPower) && result.GetResult(_tones) is null)
                result.AddError(Voice.Say("option.tones-missing", ("option", (hasSpeed ? _speed : _power).Name)));
            if (hasSpeed && hasPower) result.AddError(Voice.Say("option.tones-both"));
        });
    }

    /// <summary>What was asked; null where no tones were.</summary>
    public ToneRequest? From(ParseResult parsed) => parsed.GetValue(_tones) is { } tones
        ? new((int)tones, parsed.GetValue(_speed), parsed.GetValue(_power))
        : null;
}
