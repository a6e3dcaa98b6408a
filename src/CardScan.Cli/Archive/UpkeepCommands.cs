using System.CommandLine;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan archive export</c>, <c>import</c>, <c>verify</c>, <c>repair</c>, <c>prune</c>.</summary>
internal static class UpkeepCommands
{
    public static Command Export(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        QueryInput query = new(hasText: false);
        Argument<string> file = new("file") { Description = "The file to write: .zip, .csv or .json" };
        ExplainedCommand command = new("export", "Write cards into one file", """
            NAME.zip is a bundle: plans, photos, readings, pictures, notes and tags, for another archive to take in.
            NAME.csv is a table of every cell of the current readings, NAME.json those readings.

            Examples:
              cardscan archive export everything.zip
              cardscan archive export birch.csv --material birch
            """)
        {
            file,
        };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(
            ExportArchive.Run(archive.Place(parsed), query.From(parsed), parsed.GetValue(file)!),
            part => $"{parsed.GetValue(file)}: {Count(part.Cards, "card")}, {Count(part.Readings, "reading")}"));
        return command;
    }

    public static Command Import(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string> file = new("file") { Description = "A bundle" };
        ExplainedCommand command = new("import", "Import a bundle", """
            All of it or nothing; what the archive has already is not kept twice. Files that were lost or damaged here come back.

            Example:
              cardscan archive import everything.zip
            """)
        {
            file,
        };
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(
            archive.Place(parsed).Use(opened => opened.ImportBundle(parsed.GetValue(file)!), mayMake: true),
            part => $"New: {Count(part.Cards, "card")}, {Count(part.Readings, "reading")}"));
        return command;
    }

    public static Command Verify(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("verify", "Check every file and every row", """
            Reads everything and changes nothing. Exit code 0 where all is sound, 1 where something is not.

            Example:
              cardscan archive verify
            """);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<ArchiveHealth> health = archive.Place(parsed).Use(opened => opened.Verify());
            if (health.IsRefused) return terminal.Refuse(health.Refusal!);
            foreach (string fault in health.Value.Faults) terminal.ShowLine(fault);
            if (health.Value.Leftovers.Count > 0) terminal.Note($"{Count(health.Value.Leftovers.Count, "file")} of writes that were broken off; cardscan archive repair deletes them");
            terminal.ShowLine(health.Value.IsSound
                ? $"Sound: {Count(health.Value.Readings, "reading")}, {Count(health.Value.Files, "file")}."
                : $"{Count(health.Value.Faults.Count, "fault")}: cardscan archive repair mends what can be; lost files come back by importing a bundle that has them, or by reading their photos again.");
            return health.Value.IsSound ? ExitCode.Done : ExitCode.Failed;
        });
        return command;
    }

    public static Command Repair(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("repair", "Repair what can be repaired", """
            Makes anew what follows from the readings (cells, recommendations, search words), and deletes what broken-off
            writes left. Files that were lost come back by importing a bundle that has them, or by reading their photos again.

            Example:
              cardscan archive repair
            """);
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(archive.Place(parsed).Use(opened => opened.Repair()), lines => string.Join(Environment.NewLine, lines)));
        return command;
    }

    public static Command Prune(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string[]> names = new("name") { Description = "Readings (r12) and cards (c5) to remove; a card goes with its readings", Arity = ArgumentArity.ZeroOrMore };
        Option<bool> superseded = new("--superseded") { Description = "Remove readings whose photos were read again later" };
        Option<bool> really = new("--really-delete") { Description = "Remove; without it nothing is removed, and what would be is told" };
        ExplainedCommand command = new("prune", "Remove readings and cards for good; without --really-delete only tell what would go", """
            Files go too where nothing else refers to them. There is no way back but a bundle exported before.

            Examples:
              cardscan archive prune --superseded
              cardscan archive prune r1
            """)
        {
            names, superseded, really,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            bool isMeant = parsed.GetValue(really);
            Outcome<PrunedPart> part = PruneArchive.Run(archive.Place(parsed), parsed.GetValue(names)!.ToValueList(), parsed.GetValue(superseded), isMeant);
            return terminal.Tell(part, pruned =>
                $"{(isMeant ? "Removed" : "Would remove")}: {Names(pruned.Cards, "card")}, {Names(pruned.Readings, "reading")}, {Count(pruned.Files.Count, "file")} ({pruned.SizeBytes / 1e6:0.0} MB)"
                + (isMeant ? "" : $"{Environment.NewLine}Nothing was removed; --really-delete does it."));
        });
        return command;
    }

    private static string Names(ValueList<string> names, string what) => names.Count == 0 ? $"no {what}" : $"{Count(names.Count, what)} ({string.Join(' ', names)})";

    private static string Count(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";
}
