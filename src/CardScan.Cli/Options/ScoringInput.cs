using System.CommandLine;
using CardScan.Scoring;

namespace CardScan.Cli;

/// <summary>The options that say what makes a good setting; shared by the commands that score.</summary>
internal sealed class ScoringInput
{
    private readonly Option<double?> _fullMark = NumberOption.Create(
        "--full-mark", "Share of the strongest mark that counts as full, percent (default 95)", share => share is >= 50 and < 100, "a percentage from 50 to below 100, for instance 90");

    private readonly Option<double?> _halo = NumberOption.Create(
        "--halo-limit", "Widest scorch accepted beside a mark, mm (default 1)", mm => mm is >= 0 and <= 100, "a number of mm from 0 on");

    private readonly Option<double?> _confidence = NumberOption.Create(
        "--confidence", "Probability demanded of a recommended setting, percent (default 80 for full marks, 95 for cuts)", share => share is >= 50 and < 100, "a percentage from 50 to below 100, for instance 90");

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
}
