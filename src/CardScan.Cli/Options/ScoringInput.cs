using System.CommandLine;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The options that say what makes a good setting; shared by the commands that score.</summary>
internal sealed class ScoringInput
{
    private readonly Option<double?> _fullMark = NumberOption.Create("--full-mark", Percentage);

    private readonly Option<double?> _halo = NumberOption.Create("--halo-limit", new(0, 100, Unit.Mm));

    private readonly Option<double?> _confidence = NumberOption.Create("--confidence", Percentage);

    private readonly ToneInput _tones = new();

    public void AddTo(Command command)
    {
        _tones.AddTo(command);
        command.Options.Add(_fullMark);
        command.Options.Add(_halo);
        command.Options.Add(_confidence);
    }

    public ScoringOptions From(ParseResult parsed)
    {
        ScoringOptions options = new();
        double? confidence = parsed.GetValue(_confidence) / 100;
        return options with
        {
            FullMarkShare = parsed.GetValue(_fullMark) / 100 ?? options.FullMarkShare,
            HaloLimitMm = parsed.GetValue(_halo) ?? options.HaloLimitMm,
            FullMarkConfidence = confidence ?? options.FullMarkConfidence,
            CutConfidence = confidence ?? options.CutConfidence,
            Tones = _tones.From(parsed),
        };
    }

    private static NumberRange Percentage =>
        new(50, 100, Unit.Percent) { IsBelow = true, Told = new Phrase("option.percentage.range") };
}
