using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace CardScan.Cli;

/// <summary>A command with one line for the list of commands, and details with an example for its own help.</summary>
/// <param name="name">Name.</param>
/// <param name="summary">One line.</param>
/// <param name="details">What to know, and at least one example: lines that begin with two spaces and <c>cardscan</c>.</param>
internal sealed class ExplainedCommand(string name, string summary, string details) : Command(name, summary)
{
    /// <summary>What to know, with an example.</summary>
    public string Details { get; } = details;

    /// <summary>Makes <c>--help</c> print the details of the command it is asked for, below the options.</summary>
    public static void ExplainIn(RootCommand root)
    {
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
        {
            if (help.Action is HelpAction usual) help.Action = new HelpWithDetails(usual);
        }
    }

    private sealed class HelpWithDetails(HelpAction usual) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            int code = usual.Invoke(parseResult);
            if (parseResult.CommandResult.Command is ExplainedCommand command) parseResult.InvocationConfiguration.Output.WriteLine(command.Details);
            return code;
        }
    }
}
