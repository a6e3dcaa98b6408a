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

    /// <summary>The option for a card's number.</summary>
    /// <param name="text">Its description.</param>
    public static Option<double?> OfCard(Phrase text) => Create("--number", NumberRange.Whole(0, Plan.Numbers - 1), text);

    /// <summary>The option for a thickness.</summary>
    /// <param name="text">Its description, where it is not the usual one.</param>
    public static Option<double?> OfThickness(Phrase? text = null) =>
        Create("--thickness", NumberRange.Positive(1000, Unit.Mm), text);

    /// <summary>An option for a speed.</summary>
    public static Option<double?> OfSpeed(string name, double least, double most, Phrase? told = null) =>
        Create(name, new(least, most, Unit.MmPerMin) { Told = told });

    private static double? Parse(ArgumentResult result, string name, NumberRange range)
    {
        string text = result.Tokens[0].Value;
        WrittenNumber? number = WrittenNumber.Read(text);
        double value = 0;
        Phrase? fault = number is null ? range.Phrase : number.FaultIn(range.Unit, out value) ?? (range.Takes(value) ? null : range.Phrase);
        if (fault is null) return value;
        result.AddError(CommandLineFaults.Invalid(name, text, fault, IsNumberWithComma(text) ? text.Replace(',', '.') : null));
        return null;
    }

    private static bool IsNumberWithComma(string text) =>
        text.Count(c => c == ',') == 1 && WrittenNumber.Read(text.Replace(',', '.')) is not null;
}
