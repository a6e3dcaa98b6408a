using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;

namespace CardScan.Cli;

/// <summary>What is wrong with a command line, the cause before its consequences.</summary>
internal static class CommandLineFaults
{
    /// <summary>One line a fault; none where the command can be run.</summary>
    public static string[] Of(ParseResult parsed)
    {
        // A misspelt option leaves others missing, and its value without a place: only the misspelling is worth a line.
        string[] unknown = [.. UnknownOptions(parsed).Select(option => $"unknown option {option}").Distinct()];
        if (unknown.Length > 0) return unknown;
        if (parsed.Action is not ParseErrorAction) return [];
        Command command = parsed.CommandResult.Command;
        if (command.Subcommands.Count == 0) return [.. parsed.Errors.Select(Worded).Distinct()];
        string path = command is RootCommand ? "" : $"{command.Name} ";
        return [parsed.UnmatchedTokens.Count > 0 ? $"unknown command \"{path}{parsed.UnmatchedTokens[0]}\"" : path.Length == 0 ? "no command is given" : $"no command is given behind \"{command.Name}\""];
    }

    /// <summary>The parser's own words name no option and run over several lines where a word is not one of a few.</summary>
    private static string Worded(ParseError error) => error.SymbolResult switch
    {
        OptionResult { Tokens.Count: 0, IdentifierToken: { } name } => $"{name.Value} has no value: give one behind it",
        OptionResult { IdentifierToken: { } name } option when FirstForeign(option) is { } foreign => $"{name.Value} has \"{foreign}\": give {Listed(WordsOf(option))}",
        ArgumentResult { Tokens.Count: 0, Parent: CommandResult command } argument => $"no <{argument.Argument.Name}> is given behind \"{command.Command.Name}\"",
        _ => error.Message,
    };

    private static string? FirstForeign(OptionResult option) =>
        WordsOf(option) is { Length: > 0 } words ? option.Tokens.Select(token => token.Value).FirstOrDefault(word => !words.Contains(word)) : null;

    private static string[] WordsOf(OptionResult option) => [.. option.Option.GetCompletions(CompletionContext.Empty).Select(item => item.Label)];

    private static string Listed(string[] words) => words.Length == 1 ? words[0] : $"{string.Join(", ", words[..^1])} or {words[^1]}";

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
