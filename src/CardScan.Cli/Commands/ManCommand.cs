using System.CommandLine;

namespace CardScan.Cli;

/// <summary><c>cardscan man</c>: the manual page, for packages and whoever has none.</summary>
internal static class ManCommand
{
    /// <summary>Stands in the page for the folder of whoever reads it.</summary>
    private const string AnybodysArchive = "~/.local/share/cardscan";

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ExplainedCommand command = new("man", "cardscan man > cardscan.1");
        command.SetAction(_ =>
        {
            HostEnvironment anybodys = surroundings with { ArchiveFolder = AnybodysArchive };
            terminal.ShowRaw(ManPage.Of(Application.Root(terminal, anybodys), BuildVersion.Number));
            return ExitCode.Done;
        });
        return command;
    }
}
