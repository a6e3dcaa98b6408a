using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that take a number, always with a decimal point, whatever the machine's language.</summary>
internal static class NumberOption
{
    /// <summary>An option for a number that may be left out.</summary>
    /// <param name="name">Name with its dashes; its texts have it as their key where no others are given.</param>
    /// <param name="isInRange">The numbers that are taken.</param>
    /// <param name="text">Its description.</param>
    /// <param name="range">What to give, where a number is not taken.</param>
    public static Option<double?> Create(string name, Func<double, bool> isInRange, Phrase? text = null, Phrase? range = null) => new(name)
    {
        Description = text is null ? OptionText.Of(name) : Voice.Tell(text),
        HelpName = OptionText.Placeholder("number"),
        CustomParser = result => Parse(result, name, isInRange, range ?? OptionText.RangeOf(name)),
    };

    /// <summary>The option for a card's number.</summary>
    /// <param name="text">Its description.</param>
    public static Option<double?> OfCard(Phrase text) => Create(
        "--number", n => n >= 0 && n < Plan.Numbers && double.IsInteger(n), text,
        new Phrase("option.number.range", ("most", Plan.Numbers - 1)));

    /// <summary>The option for a thickness.</summary>
    /// <param name="text">Its description, where it is not the usual one.</param>
    public static Option<double?> OfThickness(Phrase? text = null) => Create("--thickness", mm => mm is > 0 and <= 1000, text);

    private static double? Parse(ArgumentResult result, string name, Func<double, bool> isInRange, Phrase range)
    {
        string text = result.Tokens[0].Value;
        if (IsNumber(text, out double value) && isInRange(value)) return value;
        result.AddError(CommandLineFaults.Invalid(name, text, range, IsNumberWithComma(text) ? text.Replace(',', '.') : null));
        return null;
    }

    /// <summary>Whether a text is a number, a finite one, with a decimal point where it has one.</summary>
    /// <param name="text">The text.</param>
    /// <param name="value">The number.</param>
    public static bool IsNumber(string text, out double value)
    {
        const NumberStyles styles = NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign;
        return double.TryParse(text, styles, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }

    private static bool IsNumberWithComma(string text) => text.Count(c => c == ',') == 1 && IsNumber(text.Replace(',', '.'), out _);
}
