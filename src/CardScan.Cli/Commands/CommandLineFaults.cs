using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>What is wrong with a command line, the cause before its consequences.</summary>
internal static class CommandLineFaults
{
    /// <summary>One line a fault; none where the command can be run.</summary>
    public static string[] Of(ParseResult parsed)
    {
        // A shell that asks for completions has half a command line.
        if (parsed.Tokens.Any(token => token.Type == TokenType.Directive)) return [];
        if (parsed is { CommandResult.Command.Subcommands.Count: > 0, UnmatchedTokens: [{ } word, ..] } && !word.StartsWith('-'))
            return [UnknownCommand(word, parsed.CommandResult.Command)];
        // A misspelt option leaves others missing, and its value without a place: only the misspelling is worth a line.
        string[] unknown = [.. UnknownOptions(parsed).Distinct().Select(option => UnknownOption(option, parsed.CommandResult.Command))];
        if (unknown.Length > 0) return unknown;
        Command command = parsed.CommandResult.Command;
        if (parsed.Action is not ParseErrorAction) return [];
        if (command.Subcommands.Count == 0) return [.. parsed.Errors.Select(Worded).Distinct()];
        return [command is RootCommand ? Voice.Say("option.no-command") : Voice.Say("option.no-command", ("command", command.Name))];
    }

    private static string UnknownOption(string option, Command command)
    {
        IEnumerable<string> names = command.Options.Where(known => !known.Hidden).Select(known => known.Name);
        return Voice.Say("option.unknown", Figures.Known(("option", option), ("near", NearName.FigureOf(option, names))));
    }

    private static string UnknownCommand(string given, Command command)
    {
        string above = command is RootCommand ? "" : $"{command.Name} ";
        string? near = NearName.Of(given, command.Subcommands.Select(known => known.Name));
        return Voice.Say("option.unknown-command", Figures.Known(
            ("command", above + given), ("near", Figures.Text(near is null ? null : above + near))));
    }

    /// <summary>The line of a value that an option does not take.</summary>
    /// <param name="option">The option.</param>
    /// <param name="given">What was given.</param>
    /// <param name="allowed">What to give instead.</param>
    /// <param name="withPoint">The number that was meant, where it has a decimal comma.</param>
    public static string Invalid(string option, string given, Phrase allowed, string? withPoint = null) =>
        OptionValue.Invalid(option, given, allowed, withPoint).ToString();

    /// <summary>The parser's own words name no option and run over several lines where a word is not one of a few.</summary>
    private static string Worded(ParseError error) => error.SymbolResult switch
    {
        OptionResult { Tokens.Count: 0, IdentifierToken: { } name } => Voice.Say("option.no-value", ("option", name.Value)),
        OptionResult { IdentifierToken: { } name } option when FirstForeign(option) is { } foreign =>
            Invalid(name.Value, foreign, new Phrase("option.one-of", ("words", Listed(WordsOf(option))))),
        OptionResult { Tokens.Count: > 1, IdentifierToken: { } name } option when option.Option.Arity.MaximumNumberOfValues == 1 =>
            Voice.Say("option.twice", ("option", name.Value)),
        ArgumentResult { Tokens: [var token, ..], Argument: var argument } when WordsOf(argument) is { Length: > 0 } words =>
            Invalid($"<{argument.Name}>", token.Value, new Phrase("option.one-of", ("words", Listed(words)))),
        ArgumentResult { Tokens.Count: 0, Parent: CommandResult command } argument =>
            Voice.Say("option.no-argument", ("argument", argument.Argument.Name), ("command", command.Command.Name)),
        _ => error.Message,
    };

    private static string? FirstForeign(OptionResult option) =>
        WordsOf(option) is { Length: > 0 } words
            ? option.Tokens.Select(token => token.Value).FirstOrDefault(word => !words.Contains(word))
            : null;

    private static string[] WordsOf(OptionResult option) =>
        [.. option.Option.GetCompletions(CompletionContext.Empty).Select(item => item.Label)];

    private static string[] WordsOf(Argument argument) => [.. argument.GetCompletions(CompletionContext.Empty).Select(item => item.Label)];

    private static Figure Listed(string[] words) =>
        words.Length == 1 ? words[0] : new Phrase("option.or", ("first", List(words[..^1])), ("last", words[^1]));

    /// <summary>Words with a dash that stand where a file was expected, or nowhere. Behind <c>--</c> every word is a file.</summary>
    private static IEnumerable<string> UnknownOptions(ParseResult parsed)
    {
        HashSet<string> meant = [.. parsed.Tokens.SkipWhile(token => token.Type != TokenType.DoubleDash).Select(token => token.Value)];
        return parsed.CommandResult.Children.OfType<ArgumentResult>().SelectMany(argument => argument.Tokens).Select(token => token.Value)
            .Concat(parsed.UnmatchedTokens)
            .Where(word => word.Length > 1 && word[0] == '-' && !char.IsAsciiDigit(word[1]) && !meant.Contains(word))
            .Select(word => word.Split('=')[0]);
    }
}
