using System.CommandLine;
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
        if (command.Subcommands.Count == 0) return [.. parsed.Errors.Select(error => error.Message).Distinct()];
        string path = command is RootCommand ? "" : $"{command.Name} ";
        return [parsed.UnmatchedTokens.Count > 0 ? $"unknown command \"{path}{parsed.UnmatchedTokens[0]}\"" : path.Length == 0 ? "no command is given" : $"no command is given behind \"{command.Name}\""];
    }

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
