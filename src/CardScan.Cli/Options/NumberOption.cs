using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that take a number, always with a decimal point, whatever the machine's language.</summary>
internal static class NumberOption
{
    /// <summary>An option for a number that may be left out.</summary>
    /// <param name="name">Name with its dashes.</param>
    /// <param name="description">What it is, with its unit.</param>
    /// <param name="isInRange">The numbers that are taken.</param>
    /// <param name="range">The same in words.</param>
    public static Option<double?> Create(string name, string description, Func<double, bool> isInRange, string range) => new(name)
    {
        Description = description,
        HelpName = "number",
        CustomParser = result => Parse(result, name, isInRange, range),
    };

    /// <summary>The option for a card's number.</summary>
    /// <param name="description">What it is.</param>
    public static Option<double?> OfCard(string description) =>
        Create("--number", description, n => n >= 0 && n < Plan.Numbers && double.IsInteger(n), $"a whole number from 0 to {Plan.Numbers - 1}");

    private static double? Parse(ArgumentResult result, string name, Func<double, bool> isInRange, string range)
    {
        string text = result.Tokens[0].Value;
        bool isNumber = double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out double value);
        if (isNumber && isInRange(value)) return value;
        string hint = IsNumberWithComma(text) ? $", with a decimal point: {text.Replace(',', '.')}" : "";
        result.AddError($"{name} has \"{text}\": give {range}{hint}");
        return null;
    }

    private static bool IsNumberWithComma(string text) =>
        text.Count(c => c == ',') == 1
        && double.TryParse(text.Replace(',', '.'), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _);
}
