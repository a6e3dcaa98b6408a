using System.CommandLine;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options for what is written beside a plan.</summary>
internal sealed class ExtrasInput
{
    private readonly Option<bool> _split = new("--split-drawing") { Description = OptionText.Of("--split-drawing") };

    private readonly Option<double?> _pointer = NumberOption.Create("--pointer-power");

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All => [_split, _pointer];

    /// <summary>What the command line asks for.</summary>
    public CardExtras From(ParseResult parsed) => new()
    {
        SplitsDrawing = parsed.GetValue(_split), PointerPercent = parsed.GetValue(_pointer),
    };
}
