using System.CommandLine;
using CardScan.Language;

namespace CardScan.Cli;

/// <summary>The texts of an option, which have its name as their key.</summary>
internal static class OptionText
{
    /// <summary>What the option is, for the help.</summary>
    /// <param name="option">Its name with the dashes.</param>
    public static string Of(string option) => Voice.Say($"option.{option[2..]}");

    /// <summary>The option that asks for JSON.</summary>
    /// <param name="what">What is printed then.</param>
    public static Option<bool> Json(string what = "list") => new("--json") { Description = Voice.Say($"option.json.{what}") };

    /// <summary>What stands in the place of a value of some kind.</summary>
    /// <param name="kind">The kind.</param>
    public static string Placeholder(string kind) => Voice.Say($"option.value.{kind}");
}
