using System.CommandLine;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary><c>cardscan archive list</c>: the cards, newest first.</summary>
internal static class ListCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        CardListing listing = new();
        ExplainedCommand command = new("archive-list", "cardscan archive list");
        listing.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed => listing.Print(terminal, archive.Place(parsed), new ArchiveQuery(), parsed));
        return command;
    }
}
