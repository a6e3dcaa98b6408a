using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan archive record</c>: who did what to an archive that several people use.</summary>
internal static class RecordCommand
{
    private const int UsualMost = 50;

    private static readonly string[] Columns = ["done", "what"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string?> name = new("name")
        {
            HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.record.name"), Arity = ArgumentArity.ZeroOrOne,
        };
        Option<double?> most = NumberOption.Create("--most", NumberRange.Whole(1, int.MaxValue), new Phrase("option.record.most"));
        Option<bool> backup = new("--backup") { Description = Voice.Say("option.record.backup") };
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("archive-record", "cardscan archive record", "cardscan archive record c1")
        {
            name, most, backup, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed);
            if (parsed.GetValue(backup))
            {
                return terminal.Tell((place with { By = new(surroundings.Person) }).Members.NoteBackup(), parsed.GetValue(json),
                    deed => Voice.Say("terminal.backup-noted", ("time", ArchiveMessages.Time(deed.Done))), Json);
            }

            int shown = (int)(parsed.GetValue(most) ?? UsualMost);
            return List(terminal, place.Members.DeedsOn(parsed.GetValue(name), shown), parsed.GetValue(json));
        });
        return command;
    }

    private static int List(Terminal terminal, Outcome<ValueList<Deed>> deeds, bool isJson)
    {
        if (deeds.IsRefused) return terminal.Refuse(deeds.Refusal!);
        if (isJson) terminal.ShowRaw(JsonText.Of(deeds.Value.Select(Json)));
        else if (deeds.Value.Count > 0)
            TablePrinter.Print(terminal, Columns, [.. deeds.Value.Select(deed =>
                new[] { ArchiveMessages.Time(deed.Done), deed.InWords() })]);
        if (deeds.Value.Count == 0) terminal.Note(Voice.Say("terminal.record-none"));
        return ExitCode.Done;
    }

    private static JsonObject Json(Deed deed) => JsonText.Without(new()
    {
        ["doneUtc"] = ArchiveJson.Time(deed.Done),
        ["by"] = deed.By.Name,
        ["what"] = EnumName.Of(deed.Kind),
        ["subject"] = deed.Subject.Length > 0 ? deed.Subject : null,
        ["card"] = deed.CardId is { } card ? CardEntry.NameOf(card) : null,
    });
}
