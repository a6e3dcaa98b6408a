using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan archive show</c>: everything about a card, a reading or a batch.</summary>
internal static class ShowCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = WordCommands.Name();
        Option<bool> json = OptionText.Json("show");
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("archive-show", "cardscan archive show 17") { name, json };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<ArchiveView> shown = archive.Place(parsed).Show(parsed.GetValue(name)!);
            if (shown.IsRefused) return terminal.Refuse(shown.Refusal!);
            return shown.Value.Reading is { } reading
                ? Print(terminal, reading, parsed.GetValue(json))
                : Print(terminal, shown.Value.Cards, parsed.GetValue(json));
        });
        return command;
    }

    private static int Print(Terminal terminal, KeptReadingView shown, bool isJson)
    {
        ReadingEntry entry = shown.Entry;
        IEnumerable<string?> files = [entry.ReportPath, .. entry.Photos.SelectMany(photo => new[] { photo.AnnotatedPath, photo.Path })];
        int code = ReadingSummary.Print(terminal, new ReadResult(shown.Reading, files.OfType<string>().ToValueList()), isJson);
        if (isJson) return code;
        terminal.ShowWrapped(Voice.Say("terminal.shown-reading", ("reading", entry.Name), ("card", $"c{entry.CardId}"),
            ("time", ArchiveMessages.Time(entry.ReadUtc)), ("current", Is(entry.IsCurrent))));
        return code;
    }

    private static int Print(Terminal terminal, ValueList<KeptCardView> cards, bool isJson)
    {
        if (isJson) terminal.ShowRaw(JsonText.Of(cards.Select(Json)));
        else foreach (KeptCardView card in cards) Print(terminal, card);
        return ExitCode.Done;
    }

    private static JsonObject Json(KeptCardView card)
    {
        JsonObject item = ArchiveJson.Of(card.Card);
        item["readings"] = new JsonArray([.. card.Readings.Select(ArchiveJson.Of)]);
        item["notes"] = new JsonArray([.. card.Notes.Select(ArchiveJson.Of)]);
        return item;
    }

    private static void Print(Terminal terminal, KeptCardView shown)
    {
        CardEntry card = shown.Card;
        string machine = Voice.Say("terminal.shown-machine", ("name", card.Machine), ("watts", In(Unit.Watts, card.RatedOpticalWatts)));
        string[] parts = [card.Title, ArchiveMessages.Material(card), card.Batch ?? "", machine, ArchiveMessages.Process(card)];
        string head = Voice.Say("terminal.shown-card", ("name", card.Name), ("number", card.Number));
        terminal.Show($"[bold]{head}[/] · {Markup.Escape(string.Join(" · ", parts.Where(part => part.Length > 0)))}");
        terminal.ShowWrapped($"  {Planned(card)}");
        bool hasSettings = shown.Readings.Any(reading => reading.Recommendations.Count > 0);
        foreach (Advice against in hasSettings ? MaterialWords.Of(card.Material) : []) terminal.Advise(against);
        foreach (ReadingEntry reading in shown.Readings)
        {
            terminal.ShowWrapped($"  {Photos(reading)}");
            foreach (RecommendationEntry recommendation in reading.Recommendations)
                terminal.ShowWrapped($"    {Setting(recommendation)}");
        }

        if (shown.Readings.Count == 0) terminal.ShowWrapped($"  {Voice.Say("terminal.shown-unread")}");
        foreach (NoteEntry note in shown.Notes) terminal.ShowWrapped($"  {Note(note)}");
    }

    private static string Planned(CardEntry card) => Voice.Say("terminal.shown-planned", Figures.Known(
        ("time", ArchiveMessages.Time(card.KeptUtc)),
        ("closed", Figures.Text(card.ClosedUtc is { } closed ? ArchiveMessages.Time(closed) : null)),
        ("tags", Figures.Text(card.Tags.Count > 0 ? string.Join(' ', card.Tags) : null))));

    private static string Photos(ReadingEntry reading) => Voice.Say("terminal.shown-photos",
        ("reading", reading.Name), ("time", ArchiveMessages.Time(reading.ReadUtc)),
        ("photos", List(reading.Photos.Select(photo => photo.FileName))), ("current", Is(reading.IsCurrent)));

    private static string Setting(RecommendationEntry recommendation) => Voice.Say(
        "terminal.shown-goal",
        ("goal", GoalName.Of(recommendation.Goal, recommendation.Confidence, recommendation.Interval)),
        ("setting", ArchiveMessages.Setting(recommendation)));

    private static string Note(NoteEntry note) => Voice.Say("terminal.shown-note",
        ("name", note.On), ("time", ArchiveMessages.Time(note.WrittenUtc)), ("text", note.Text.ReplaceLineEndings(" ")));
}
