using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using CardScan.Language;

namespace CardScan.Cli;

/// <summary>A command with one line for the list of commands, and details with examples for its own help.</summary>
/// <param name="key">Key of its texts: its name behind that of the command it stands under.</param>
/// <param name="examples">Command lines, one or more.</param>
internal sealed class ExplainedCommand(string key, params string[] examples) : Command(key.Split('-')[^1], Voice.Say($"command.{key}.help"))
{
    /// <summary>Letters of a line of the details.</summary>
    private const int LineLetters = 118;

    /// <summary>Makes <c>--help</c> print the details of the command it is asked for, below the options.</summary>
    public static void ExplainIn(RootCommand root)
    {
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
        {
            if (help.Action is HelpAction usual) help.Action = new HelpWithDetails(usual);
        }
    }

    /// <summary>What to know, the examples, and the exit codes where they are worth a word.</summary>
    private IEnumerable<string> Details()
    {
        if (Paragraphs("details") is { Length: > 0 } details) yield return details;
        string heading = Voice.Say("command.examples", ("count", examples.Length));
        yield return string.Join('\n', examples.Select(example => $"  {example}").Prepend(heading));
        if (Paragraphs("exits") is { Length: > 0 } exits) yield return exits;
    }

    private string Paragraphs(string part)
    {
        string code = $"command.{key}.{part}";
        return Voice.Knows(code) ? string.Join('\n', Voice.Say(code).Split('\n').SelectMany(Wrapped)) : "";
    }

    private static IEnumerable<string> Wrapped(string paragraph)
    {
        string line = "";
        foreach (string word in paragraph.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > LineLetters)
            {
                yield return line;
                line = "";
            }

            line = line.Length == 0 ? word : $"{line} {word}";
        }

        yield return line;
    }

    private sealed class HelpWithDetails(HelpAction usual) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            int code = usual.Invoke(parseResult);
            if (parseResult.CommandResult.Command is ExplainedCommand command)
                parseResult.InvocationConfiguration.Output.WriteLine(string.Join("\n\n", command.Details()).ReplaceLineEndings());
            return code;
        }
    }
}
