using System.CommandLine;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>
/// Options that take a number, with its unit or in the usual one, always with a decimal point, whatever the machine's language.
/// </summary>
internal static class NumberOption
{
    /// <summary>An option for a number that may be left out.</summary>
    /// <param name="name">Name with its dashes; its text has it as its key where no other is given.</param>
    /// <param name="range">The numbers that are taken.</param>
    /// <param name="text">Its description.</param>
    public static Option<double?> Create(string name, NumberRange range, Phrase? text = null) => new(name)
    {
        Description = text is null ? OptionText.Of(name) : Voice.Tell(text),
        HelpName = OptionText.Placeholder("number"),
        CustomParser = result => Parse(result, name, range),
    };

    /// <summary>An option that pages have too.</summary>
    /// <param name="name">Name with its dashes; its text has it as its key.</param>
    public static Option<double?> Create(string name) => Create(name, NumberRange.OfOption(name));

    /// <summary>The option for a card's number.</summary>
    /// <param name="text">Its description.</param>
    public static Option<double?> OfCard(Phrase text) => Create("--number", NumberRange.OfOption("--number"), text);

    /// <summary>The option for a thickness.</summary>
    /// <param name="text">Its description, where it is not the usual one.</param>
    public static Option<double?> OfThickness(Phrase? text = null) => Create("--thickness", NumberRange.OfOption("--thickness"), text);

    /// <summary>An option for a speed.</summary>
    public static Option<double?> OfSpeed(string name, double least, double most) => Create(name, new(least, most, Unit.MmPerMin));

    private static double? Parse(ArgumentResult result, string name, NumberRange range)
    {
        Outcome<double> number = OptionValue.Number(name, result.Tokens[0].Value, range);
        if (!number.IsRefused) return number.Value;
        result.AddError(number.Refusal!.ToString());
        return null;
    }
}
