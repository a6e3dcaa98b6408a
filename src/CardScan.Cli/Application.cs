using System.CommandLine;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>Exit codes; the same for every command.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Anything that is neither of the others: a full disk, a fault of the program.</summary>
    public const int Failed = 1;

    /// <summary>The command line, or what a file holds, is wrong.</summary>
    public const int WrongInput = 2;

    /// <summary>The photo cannot be measured honestly.</summary>
    public const int PhotoRefused = 3;
}

/// <summary>The command line as a whole.</summary>
internal static class Application
{
    private const string HelpWord = "help";

    /// <summary>What is measured when Ctrl-C comes is kept first.</summary>
    private static readonly TimeSpan LongestEnding = TimeSpan.FromSeconds(15);

    /// <summary>Parses, runs, and turns whatever happens into one line and an exit code.</summary>
    /// <param name="args">The command line.</param>
    /// <param name="terminal">Where everything is printed.</param>
    /// <param name="surroundings">What the process is told by its environment, the folder that it stands in with it.</param>
    public static int Run(string[] args, Terminal terminal, HostEnvironment surroundings)
    {
        Outcome<SpeedUnit> speeds = SpeedsOf(terminal, surroundings);
        if (speeds.IsRefused) return terminal.Refuse(speeds.Refusal!);
        using IDisposable told = Voice.TellSpeedsIn(speeds.Value);
        ParseResult parsed = Root(terminal, surroundings).Parse(Asked(args));
        string[] faults = CommandLineFaults.Of(parsed);
        if (faults.Length > 0)
        {
            // Help pages after an error bury it.
            foreach (string fault in faults) terminal.Complain(fault);
            terminal.Complain(Voice.Say("option.see-help", ("command", $"cardscan {PathOf(parsed)}--help")));
            return ExitCode.WrongInput;
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration
            {
                EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = LongestEnding, Output = terminal.Output,
                Error = terminal.Errors,
            });
        }
        // Where photos are read side by side, what one thread met comes wrapped.
        catch (Exception e) when (e.GetBaseException() is IOException or UnauthorizedAccessException)
        {
            return Fail(terminal, Voice.Say("terminal.disk", ("cause", e.GetBaseException().Message.TrimEnd('.'))));
        }
        catch (Exception e) when (LibraryFault.Of(e) is not null)
        {
            return terminal.Refuse(LibraryFault.Of(e)!);
        }
#pragma warning disable CA1031 // the last resort: a person gets a line, not a stack trace
        catch (Exception e)
#pragma warning restore CA1031
        {
            return Fail(terminal, Voice.Say("terminal.fault", ("type", e.GetType().Name), ("cause", e.Message)));
        }
    }

    /// <summary>"help plan" asks for what "plan --help" does.</summary>
    private static string[] Asked(string[] args) => args is [HelpWord, .. var command] ? [.. command, "--help"] : args;

    private static int Fail(Terminal terminal, string message)
    {
        terminal.Complain(message);
        return ExitCode.Failed;
    }

    /// <summary>The unit for speeds: the variable's, else the one that is kept.</summary>
    private static Outcome<SpeedUnit> SpeedsOf(Terminal terminal, HostEnvironment surroundings)
    {
        if (surroundings.SpeedUnitWord is { } word)
        {
            return Preferences.SpeedsOf(word) is { } unit ? unit : Refusal.OfInput(
                Codes.SpeedUnitWrong, ("variable", HostEnvironment.SpeedUnitVariable), ("given", word));
        }

        Outcome<Preferences> kept = new Profiles(surroundings.ProfilesFolder).ReadPreferences();
        // Nobody is kept from reading a photo by a damaged choice of units.
        if (kept.IsRefused) terminal.Warn(kept.Refusal!);
        return kept.IsRefused ? SpeedUnit.MmPerMin : kept.Value.Speeds ?? SpeedUnit.MmPerMin;
    }

    /// <summary>All commands.</summary>
    public static RootCommand Root(Terminal terminal, HostEnvironment surroundings)
    {
        RootCommand root = new(Voice.Say("command.root.help"))
        {
            ServeCommand.Create(terminal, surroundings),
            DemoCommand.Create(terminal, surroundings),
            ProfileCommand.Create(terminal, surroundings),
            PlanCommand.Create(terminal, surroundings),
            CarryCommand.Create(terminal, surroundings),
            HistoryCommand.Create(terminal, surroundings),
            GreysCommand.Create(terminal, surroundings),
            ReadCommand.Create(terminal, surroundings),
            QueueCommand.Create(terminal, surroundings),
            MembersCommand.Create(terminal, surroundings),
            WorkCommand.Create(terminal, surroundings),
            ScoreCommand.Create(terminal, surroundings),
            CompareCommand.Create(terminal, surroundings),
            NextCommand.Create(terminal, surroundings),
            SettingsCommand.Create(terminal, surroundings),
            ArchiveCommand.Create(terminal, surroundings),
            UnitsCommand.Create(terminal, surroundings),
            CheckupCommand.Create(terminal, surroundings),
            CompletionCommand.Create(terminal),
            ManCommand.Create(terminal, surroundings),
        };
        ExplainedCommand.ExplainIn(root, terminal);
        BuildVersion.TellIn(root, terminal);
        return root;
    }

    /// <summary>The command with the one it stands under: "profile machine ".</summary>
    private static string PathOf(ParseResult parsed)
    {
        string path = "";
        SymbolResult? result = parsed.CommandResult;
        for (; result is CommandResult { Command: not RootCommand } command; result = result.Parent)
            path = $"{command.Command.Name} {path}";
        return path;
    }
}
