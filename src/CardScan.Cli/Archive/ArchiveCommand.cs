using System.CommandLine;

namespace CardScan.Cli;

/// <summary><c>cardscan archive</c>: what was planned and read before.</summary>
internal static class ArchiveCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings) =>
        new ExplainedCommand("archive", "cardscan archive list", "cardscan archive find birch --thickness 3")
        {
            ListCommand.Create(terminal, surroundings),
            FindCommand.Create(terminal, surroundings),
            ShowCommand.Create(terminal, surroundings),
            PhonesCommand.Create(terminal, surroundings),
            RenameCommand.Create(terminal, surroundings),
            WordCommands.Note(terminal, surroundings),
            WordCommands.Tag(terminal, surroundings),
            WordCommands.Close(terminal, surroundings),
            RecordCommand.Create(terminal, surroundings),
            UpkeepCommands.Export(terminal, surroundings),
            UpkeepCommands.Import(terminal, surroundings),
            UpkeepCommands.Copy(terminal, surroundings),
            UpkeepCommands.Verify(terminal, surroundings),
            UpkeepCommands.Repair(terminal, surroundings),
            UpkeepCommands.Prune(terminal, surroundings),
        };
}
