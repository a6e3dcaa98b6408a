using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
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
        string[] parts = text.Split('x');
        if (parts.Length == 2 && IsLength(parts[0], out double width) && IsLength(parts[1], out double height))
            return new() { WidthMm = width, HeightMm = height };
        result.AddError(CommandLineFaults.Invalid(name, text, new Phrase("option.size.range")));
        return null;
    }

    private static bool IsLength(string text, out double mm) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out mm) && mm > 0;
}
