using System.CommandLine;

namespace CardScan.Cli;

/// <summary><c>cardscan archive find</c>: the cards that answer a question.</summary>
internal static class FindCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        QueryInput query = new(hasText: true);
        CardListing listing = new();
        ExplainedCommand command = new("archive-find",
            "cardscan archive find birch --thickness 3 --process engrave", "cardscan archive find --batch B-0412 --from 2026-01-01");
        query.AddTo(command);
        listing.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed => listing.Print(terminal, archive.Place(parsed), query.From(parsed), parsed));
        return command;
    }
}
