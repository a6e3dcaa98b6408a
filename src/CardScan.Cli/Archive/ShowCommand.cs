using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan archive show</c>: everything about a card, a reading or a batch.</summary>
internal static class ShowCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = new("name") { Description = "A reading (r12), a card (c5 or its number), or a batch" };
        Option<bool> json = new("--json") { Description = "Print JSON; of a reading its reading.json" };
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("show", "Show a card, a reading or a batch with its notes and files", """
            Of a reading: its settings, grid and files. Of a card: all its readings. Of a batch: its cards.

            Example:
              cardscan archive show 17
            """)
        {
            name, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<int> code = archive.Place(parsed).Use(opened => Show(terminal, opened, parsed.GetValue(name)!, parsed.GetValue(json)));
            return code.IsRefused ? terminal.Refuse(code.Refusal!) : code.Value;
        });
        return command;
    }

    private static Outcome<int> Show(Terminal terminal, CardArchive archive, string name, bool isJson)
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        if (subject.IsRefused) return subject.Refusal!;
        if (subject.Value.ReadingId is { } reading) return Reading(terminal, archive, reading, isJson);
        Outcome<ValueList<CardEntry>> cards = archive.Find(new ArchiveQuery { Subject = subject.Value });
        return cards.IsRefused ? cards.Refusal! : Cards(terminal, archive, cards.Value, isJson);
    }

    private static Outcome<int> Reading(Terminal terminal, CardArchive archive, long id, bool isJson)
    {
        Outcome<Reading> reading = archive.Reading(id);
        if (reading.IsRefused) return reading.Refusal!;
        Outcome<ReadingEntry> entry = archive.ReadingEntry(id);
        if (entry.IsRefused) return entry.Refusal!;
        IEnumerable<string?> files = [entry.Value.ReportPath, .. entry.Value.Photos.SelectMany(photo => new[] { photo.AnnotatedPath, photo.Path })];
        int code = ReadingSummary.Print(terminal, new ReadResult(reading.Value, files.OfType<string>().ToValueList()), isJson);
        if (!isJson) terminal.ShowLine($"{entry.Value.Name} of c{entry.Value.CardId}, read {ArchiveWords.Time(entry.Value.ReadUtc)}{(entry.Value.IsCurrent ? "" : "; the same photos were read again later")}");
        return code;
    }

    private static Outcome<int> Cards(Terminal terminal, CardArchive archive, ValueList<CardEntry> cards, bool isJson)
    {
        List<JsonObject> all = [];
        foreach (CardEntry card in cards)
        {
            Outcome<ValueList<ReadingEntry>> readings = archive.ReadingsOf(card.Id);
            if (readings.IsRefused) return readings.Refusal!;
            Outcome<ValueList<NoteEntry>> notes = archive.Notes(new ArchiveSubject(card.Name, CardId: card.Id));
            if (notes.IsRefused) return notes.Refusal!;
            if (!isJson)
            {
                Print(terminal, card, readings.Value);
                foreach (NoteEntry note in notes.Value) terminal.ShowLine($"  note on {note.On}, {ArchiveWords.Time(note.WrittenUtc)}: {note.Text.ReplaceLineEndings(" ")}");
                continue;
            }

            JsonObject item = ArchiveJson.Of(card);
            item["readings"] = new JsonArray([.. readings.Value.Select(ArchiveJson.Of)]);
            item["notes"] = new JsonArray([.. notes.Value.Select(note => new JsonObject { ["on"] = note.On, ["text"] = note.Text, ["writtenUtc"] = ArchiveJson.Time(note.WrittenUtc) })]);
            all.Add(item);
        }

        if (isJson) terminal.ShowRaw(ArchiveJson.Text(all));
        return ExitCode.Done;
    }

    private static void Print(Terminal terminal, CardEntry card, ValueList<ReadingEntry> readings)
    {
        string[] parts = [card.Title, ArchiveWords.Material(card), card.Batch ?? "", $"{card.Machine} ({Figures.Plain(card.RatedOpticalWatts)} W)", card.Process == Process.Cut ? "cut" : "engraved"];
        terminal.Show($"[bold]{card.Name}: card {card.Number}[/] · {Markup.Escape(string.Join(" · ", parts.Where(part => part.Length > 0)))}");
        terminal.ShowLine($"  planned {ArchiveWords.Time(card.KeptUtc)}{(card.ClosedUtc is { } closed ? $", closed {ArchiveWords.Time(closed)}" : "")}{(card.Tags.Count > 0 ? $"; tags: {string.Join(' ', card.Tags)}" : "")}");
        foreach (ReadingEntry reading in readings)
        {
            terminal.ShowLine($"  {reading.Name}, {ArchiveWords.Time(reading.ReadUtc)}: {string.Join(", ", reading.Photos.Select(photo => photo.FileName))}{(reading.IsCurrent ? "" : " (read again later)")}");
            foreach (RecommendationEntry recommendation in reading.Recommendations) terminal.ShowLine($"    {recommendation.Goal}: {ArchiveWords.Setting(recommendation)}");
        }

        if (readings.Count == 0) terminal.ShowLine("  not read yet");
    }
}
