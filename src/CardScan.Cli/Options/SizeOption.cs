using System.CommandLine;
using System.CommandLine.Parsing;
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
        Outcome<CardSize> size = OptionValue.Size(name, result.Tokens[0].Value);
        if (!size.IsRefused) return size.Value;
        result.AddError(size.Refusal!.ToString());
        return null;
    }
}
