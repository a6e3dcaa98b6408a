using System.CommandLine;
using System.CommandLine.Parsing;

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
    /// <summary>Parses, runs, and turns whatever happens into one line and an exit code.</summary>
    public static int Run(string[] args, Terminal terminal, HostEnvironment surroundings)
    {
        ParseResult parsed = Root(terminal, surroundings).Parse(args);
        string[] faults = CommandLineFaults.Of(parsed);
        if (faults.Length > 0)
        {
            // Help pages after an error bury it.
            foreach (string fault in faults) terminal.Complain(fault);
            terminal.Complain($"see cardscan {PathOf(parsed)}--help");
            return ExitCode.WrongInput;
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = terminal.Output, Error = terminal.Errors });
        }
        // Where photos are read side by side, what one thread met comes wrapped.
        catch (Exception e) when (e.GetBaseException() is IOException or UnauthorizedAccessException)
        {
            terminal.Complain($"{e.GetBaseException().Message.TrimEnd('.')}: check that the folder may be written to and that the disk has room");
            return ExitCode.Failed;
        }
        catch (Exception e) when (IsMissingLibrary(e))
        {
            terminal.Complain("the OpenCV library or one that it needs is missing: on Debian or Ubuntu run  sudo apt-get install libgtk-3-0 libdrm2 libatomic1  (libgtk-3-0t64 on newer ones)");
            return ExitCode.Failed;
        }
#pragma warning disable CA1031 // the last resort: a person gets a line, not a stack trace
        catch (Exception e)
#pragma warning restore CA1031
        {
            terminal.Complain($"a fault in CardScan ({e.GetType().Name}: {e.Message}): please report it with the command and the files");
            return ExitCode.Failed;
        }
    }

    /// <summary>The loader's complaint lies under those of type initialisers and, where photos are read side by side, of several threads.</summary>
    private static bool IsMissingLibrary(Exception e) => e switch
    {
        DllNotFoundException => true,
        AggregateException several => several.InnerExceptions.Any(IsMissingLibrary),
        _ => e.InnerException is { } inner && IsMissingLibrary(inner),
    };

    private static RootCommand Root(Terminal terminal, HostEnvironment surroundings)
    {
        RootCommand root = new("Burn a test card, photograph it, get settings you can trust. Begin with: cardscan demo")
        {
            DemoCommand.Create(terminal, surroundings),
            ProfileCommand.Create(terminal, surroundings),
            PlanCommand.Create(terminal, surroundings),
            ReadCommand.Create(terminal, surroundings),
            ScoreCommand.Create(terminal, surroundings),
            CompareCommand.Create(terminal, surroundings),
            NextCommand.Create(terminal, surroundings),
            ArchiveCommand.Create(terminal, surroundings),
        };
        ExplainedCommand.ExplainIn(root);
        return root;
    }

    /// <summary>The command with the one it stands under: "profile machine ".</summary>
    private static string PathOf(ParseResult parsed)
    {
        string path = "";
        for (SymbolResult? result = parsed.CommandResult; result is CommandResult { Command: not RootCommand } command; result = result.Parent)
            path = $"{command.Command.Name} {path}";
        return path;
    }
}
