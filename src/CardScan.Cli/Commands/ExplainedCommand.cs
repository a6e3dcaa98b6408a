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
    /// <summary>Letters of a line of the details, at most.</summary>
    private const int MostLetters = 118;

    /// <summary>Makes <c>--help</c> print the details of the command it is asked for, below the options.</summary>
    public static void ExplainIn(RootCommand root, Terminal terminal)
    {
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
        {
            // A path begins with a slash, and so does nothing that a shell should complete.
            foreach (string alias in help.Aliases.Where(alias => alias.StartsWith('/')).ToArray()) help.Aliases.Remove(alias);
            if (help.Action is not HelpAction usual) continue;
            if (terminal.IsOutputTerminal) usual.MaxWidth = terminal.Width;
            help.Action = new HelpWithDetails(usual, terminal.IsOutputTerminal, Math.Min(MostLetters, terminal.Width));
        }
    }

    /// <summary>Command lines that show how it is used.</summary>
    public IReadOnlyList<string> Examples => examples;

    /// <summary>A part of its texts, paragraph by paragraph; empty where it has none.</summary>
    /// <param name="part">"details" or "exits".</param>
    public string[] Paragraphs(string part)
    {
        string code = $"command.{key}.{part}";
        return Voice.Knows(code) ? Voice.Say(code).Split('\n') : [];
    }

    /// <summary>What to know, the examples, and the exit codes where they are worth a word.</summary>
    private IEnumerable<string> Details(bool isTerminal, int letters)
    {
        if (Paragraphs("details") is { Length: > 0 } details) yield return Wrapped(details, letters);
        string heading = Voice.Say("command.examples", ("count", examples.Length));
        IEnumerable<string> lines = isTerminal ? examples.SelectMany(example => Broken(example, letters - 2)) : examples;
        yield return string.Join('\n', lines.Select(line => $"  {line}").Prepend(heading));
        if (Paragraphs("exits") is { Length: > 0 } exits) yield return Wrapped(exits, letters);
    }

    private static string Wrapped(string[] paragraphs, int letters) =>
        string.Join('\n', paragraphs.SelectMany(paragraph => Lines(Terminal.Bound(paragraph, isTerminal: true).Split(' '), letters)))
            .Replace(Terminal.Bond, ' ');

    /// <summary>A command line before whose options a new line may begin, as a shell takes it.</summary>
    private static IEnumerable<string> Broken(string example, int letters)
    {
        string[] lines = [.. Lines(example.Replace(" --", "\n--").Split('\n'), letters - 4)];
        return lines.Select((line, i) => (i == 0 ? "" : "  ") + line + (i < lines.Length - 1 ? " \\" : ""));
    }

    private static IEnumerable<string> Lines(IEnumerable<string> words, int letters)
    {
        string line = "";
        foreach (string word in words)
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > letters)
            {
                yield return line;
                line = "";
            }

            line = line.Length == 0 ? word : $"{line} {word}";
        }

        yield return line;
    }

    private sealed class HelpWithDetails(HelpAction usual, bool isTerminal, int letters) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            if (isTerminal) Bind(parseResult);
            int code = usual.Invoke(parseResult);
            if (parseResult.CommandResult.Command is ExplainedCommand command)
            {
                string details = string.Join("\n\n", command.Details(isTerminal, letters));
                parseResult.InvocationConfiguration.Output.WriteLine(details.ReplaceLineEndings());
            }

            return code;
        }

        /// <summary>The library wraps descriptions at any space, so those that must not part are none until they are written.</summary>
        private static void Bind(ParseResult parsed)
        {
            Command command = parsed.CommandResult.Command;
            foreach (Symbol symbol in command.Options.Concat<Symbol>(command.Arguments).Concat(command.Subcommands).Append(command))
                symbol.Description = Terminal.Bound(symbol.Description ?? "", isTerminal: true);
            InvocationConfiguration configuration = parsed.InvocationConfiguration;
            configuration.Output = new Terminal.Unbinding(configuration.Output);
        }
    }
}
