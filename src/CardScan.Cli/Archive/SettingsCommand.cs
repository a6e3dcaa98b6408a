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
        Option<string> sheet = new("--sheet") { Description = Voice.Say("option.sheet"), HelpName = OptionText.Placeholder("file") };
        Option<string> paper = new("--paper") { Description = Voice.Say("option.paper"), HelpName = "a4|letter" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Option<double?> most = NumberOption.Create(
            "--most", NumberRange.Whole(1, 1e9), new Phrase("option.most-settings", ("usual", SettingsBook.UsualMost)));
        ExplainedCommand command = new("settings", "cardscan settings birch 3mm", "cardscan settings --sheet wall.pdf")
        {
            csv, sheet, paper, most, json,
        };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed);
            // A program is given everything; a person reads no more than this.
            bool isForProgram = parsed.GetValue(json) || parsed.GetValue(csv) is not null;
            double usual = isForProgram ? int.MaxValue : SettingsBook.UsualMost;
            ArchiveQuery asked = query.From(parsed) with { Most = (int)(parsed.GetValue(most) ?? usual) };
            Outcome<SettingsBook> book = SettingsBook.Of(place, asked);
            if (book.IsRefused) return terminal.Refuse(book.Refusal!);
            ValueList<KeptSetting> settings = book.Value.Settings;
            foreach (KeptSetting setting in settings) ArchiveMessages.WarnOf(terminal, setting.Card);
            if (parsed.GetValue(csv) is { } file && book.Value.WriteCsv(surroundings.At(file)) is { } unwritten)
                return terminal.Refuse(unwritten);
            Paper size = parsed.GetValue(paper) == "letter" ? Paper.Letter : Paper.A4;
            DateOnly today = DateOnly.FromDateTime(surroundings.Clock.GetLocalNow().DateTime);
            if (parsed.GetValue(sheet) is { } pdf && book.Value.WriteSheet(surroundings.At(pdf), today, size) is { } unprinted)
                return terminal.Refuse(unprinted);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(settings.Select(SettingsJson.Of)));
            else SettingsPrinter.Print(terminal, settings);
            foreach (BookNote note in book.Value.Notes) terminal.Note(note.Text);
            if (settings.Count > 0) terminal.Warn(Voice.Say("book.caution"));
            return ExitCode.Done;
        });
        return command;
    }
}
