using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan settings</c>: what is set today.</summary>
internal static class SettingsCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        QueryInput query = new(hasText: true);
        Option<bool> json = OptionText.Json();
        Option<string> csv = new("--csv") { Description = Voice.Say("option.csv.settings"), HelpName = OptionText.Placeholder("file") };
        ExplainedCommand command = new("settings", "cardscan settings birch 3mm", "cardscan settings --csv settings.csv") { csv, json };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed);
            ArchiveQuery asked = query.From(parsed);
            Outcome<SettingsBook> book = SettingsBook.Of(place, asked);
            if (book.IsRefused) return terminal.Refuse(book.Refusal!);
            ValueList<KeptSetting> settings = book.Value.Settings;
            foreach (KeptSetting setting in settings) ArchiveMessages.WarnOf(terminal, setting.Card);
            if (parsed.GetValue(csv) is { } file && book.Value.WriteCsv(file) is { } unwritten) return terminal.Refuse(unwritten);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(settings.Select(SettingsJson.Of)));
            else SettingsPrinter.Print(terminal, settings);
            foreach (string note in book.Value.Notes) terminal.Note(note);
            if (settings.Count > 0) terminal.Warn(Voice.Say("book.caution"));
            return ExitCode.Done;
        });
        return command;
    }
}
