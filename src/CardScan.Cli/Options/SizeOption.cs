using System.CommandLine;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>An option that takes a width and a height, <c>120x100</c>.</summary>
internal static class SizeOption
{
    /// <summary>An option for a size that may be left out.</summary>
    /// <param name="name">Name with its dashes; its text has it as its key.</param>
    public static Option<CardSize?> Create(string name) => new(name)
    {
        Description = OptionText.Of(name),
        HelpName = OptionText.Placeholder("size"),
        CustomParser = result => Parse(result, name),
    };

    private static CardSize? Parse(ArgumentResult result, string name)
    {
        string text = result.Tokens[0].Value;
        WrittenNumber?[] parts = [.. text.Split('x').Select(WrittenNumber.Read)];
        Phrase? fault = null;
        if (parts is [{ } width, { } height])
        {
            fault = WrittenNumber.FaultOf([width, height], Unit.Mm, out double[] mm);
            if (fault is null && mm[0] > 0 && mm[1] > 0) return new() { WidthMm = mm[0], HeightMm = mm[1] };
        }

        result.AddError(CommandLineFaults.Invalid(name, text, fault ?? new Phrase("option.size.range")));
        return null;
    }
}
