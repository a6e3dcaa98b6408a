using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan archive export</c>, <c>import</c>, <c>copy</c>, <c>verify</c>, <c>repair</c>, <c>prune</c>.</summary>
internal static class UpkeepCommands
{
    public static Command Export(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        QueryInput query = new(hasText: false);
        Argument<string> file = new("file") { HelpName = OptionText.Placeholder("file"), Description = Voice.Say("option.export-file") };
        ExplainedCommand command = new("archive-export",
            "cardscan archive export everything.zip", "cardscan archive export birch.csv --material birch") { file, json };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(
            ExportArchive.Run(archive.Place(parsed), query.From(parsed), surroundings.At(parsed.GetValue(file)!)), parsed.GetValue(json),
            part => Voice.Say("terminal.exported", ("file", parsed.GetValue(file)!), ("cards", part.Cards), ("readings", part.Readings)),
            part => new JsonObject { ["file"] = parsed.GetValue(file)!, ["cards"] = part.Cards, ["readings"] = part.Readings }));
        return command;
    }

    public static Command Import(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        Argument<string> file = new("file") { HelpName = OptionText.Placeholder("file"), Description = Voice.Say("option.import-file") };
        ExplainedCommand command = new("archive-import", "cardscan archive import everything.zip") { file, json };
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(
            archive.Place(parsed).Import(surroundings.At(parsed.GetValue(file)!)), parsed.GetValue(json),
            part => Voice.Say("terminal.imported", ("cards", part.Cards), ("readings", part.Readings)), ArchiveJson.Of));
        return command;
    }

    public static Command Copy(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        Argument<string> to = new("to") { HelpName = OptionText.Placeholder("archive"), Description = Voice.Say("option.copy-to") };
        ExplainedCommand command = new("archive-copy", "cardscan archive copy cards-of-2026") { to, json };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace other = archive.Place(parsed) with { Name = surroundings.ArchiveAt(parsed.GetValue(to)!) };
            return terminal.Tell(
                terminal.Working(Voice.Say("terminal.copying"), () => archive.Place(parsed).CopyTo(other)), parsed.GetValue(json),
                copied => Voice.Say("terminal.copied", ("cards", copied.Cards), ("readings", copied.Readings), ("files", copied.Files),
                    ("archive", other.Name), ("variable", HostEnvironment.ArchiveVariable)),
                ArchiveJson.Of);
        });
        return command;
    }

    public static Command Verify(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("archive-verify", "cardscan archive verify") { json };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<ArchiveHealth> health = archive.Place(parsed).Verify();
            if (health.IsRefused) return terminal.Refuse(health.Refusal!);
            if (parsed.GetValue(json))
            {
                terminal.ShowRaw(JsonText.Of(ArchiveJson.Of(health.Value)));
                return health.Value.IsSound ? ExitCode.Done : ExitCode.Failed;
            }

            foreach (string fault in health.Value.Faults) terminal.ShowLine(fault);
            if (health.Value.Leftovers.Count > 0) terminal.Note(Voice.Say("terminal.leftovers", ("files", health.Value.Leftovers.Count)));
            terminal.ShowWrapped(health.Value.IsSound
                ? Voice.Say("terminal.sound", ("readings", health.Value.Readings), ("files", health.Value.Files))
                : Voice.Say("terminal.faults", ("faults", health.Value.Faults.Count)));
            return health.Value.IsSound ? ExitCode.Done : ExitCode.Failed;
        });
        return command;
    }

    public static Command Repair(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("archive-repair", "cardscan archive repair") { json };
        archive.AddTo(command);
        command.SetAction(parsed => terminal.Tell(archive.Place(parsed).Repair(), parsed.GetValue(json),
            lines => string.Join(Environment.NewLine, lines), lines => new JsonObject { ["done"] = JsonText.List(lines) }));
        return command;
    }

    public static Command Prune(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        Argument<string[]> names = new("name")
        {
            HelpName = OptionText.Placeholder("name"),
            Description = Voice.Say("option.prune-names"),
            Arity = ArgumentArity.ZeroOrMore
        };
        Option<bool> superseded = new("--superseded") { Description = Voice.Say("option.superseded") };
        Option<bool> really = new("--really-delete") { Description = Voice.Say("option.really-delete") };
        ExplainedCommand command = new("archive-prune", "cardscan archive prune --superseded", "cardscan archive prune r1")
        {
            names, superseded, really, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            bool isMeant = parsed.GetValue(really);
            Outcome<PrunedPart> part = PruneArchive.Run(
                archive.Place(parsed), parsed.GetValue(names)!.ToValueList(), parsed.GetValue(superseded), isMeant);
            if (part.IsRefused) return terminal.Refuse(part.Refusal!);
            if (parsed.GetValue(json))
            {
                terminal.ShowRaw(JsonText.Of(ArchiveJson.Of(part.Value, isMeant)));
                return ExitCode.Done;
            }

            terminal.ShowWrapped(Pruned(part.Value, isMeant));
            if (!isMeant) terminal.ShowWrapped(Voice.Say("terminal.not-pruned"));
            return ExitCode.Done;
        });
        return command;
    }

    private static string Pruned(PrunedPart part, bool isMeant) => Voice.Say("terminal.pruned", ("removed", Is(isMeant)),
        ("cards", part.Cards.Count), ("card-names", string.Join(' ', part.Cards)),
        ("readings", part.Readings.Count), ("reading-names", string.Join(' ', part.Readings)),
        ("files", part.Files.Count), ("size", In(Unit.Bytes, part.SizeBytes)));
}
