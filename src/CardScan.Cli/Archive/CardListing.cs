using System.CommandLine;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>Cards of the archive as a list.</summary>
internal sealed class CardListing
{
    private const int UsualMost = 50;

    private static readonly string[] Headings = ["card", "number", "date", "process", "material", "batch", "machine", "reading", "setting", "title", "tags"];

    private readonly Option<bool> _json = new("--json") { Description = "Print JSON" };

    private readonly Option<double?> _most = NumberOption.Create("--most", $"How many cards at most (default {UsualMost})", n => n is >= 1 and <= 1e9 && double.IsInteger(n), "a whole number from 1 on");

    public void AddTo(Command command)
    {
        command.Options.Add(_most);
        command.Options.Add(_json);
    }

    public int Print(Terminal terminal, ArchivePlace place, ArchiveQuery query, ParseResult parsed)
    {
        int most = (int)(parsed.GetValue(_most) ?? UsualMost);
        Outcome<(ValueList<CardEntry> Cards, long Count)> found = place.Use<(ValueList<CardEntry>, long)>(archive =>
        {
            Outcome<ValueList<CardEntry>> cards = archive.Find(query with { Most = most });
            if (cards.IsRefused) return cards.Refusal!;
            Outcome<long> count = archive.Count(query);
            return count.IsRefused ? count.Refusal! : (cards.Value, count.Value);
        });
        if (found.IsRefused) return terminal.Refuse(found.Refusal!);
        if (parsed.GetValue(_json)) terminal.ShowRaw(ArchiveJson.Text(found.Value.Cards.Select(ArchiveJson.Of)));
        else if (found.Value.Cards.Count > 0) TablePrinter.Print(terminal, Headings, [.. found.Value.Cards.Select(Row)]);
        if (found.Value.Cards.Count == 0) terminal.Note("no card answers that");
        else if (found.Value.Count > most) terminal.Note($"{found.Value.Count - most} more; --most {found.Value.Count} shows all");
        return ExitCode.Done;
    }

    private static string[] Row(CardEntry card) =>
    [
        card.Name,
        $"{card.Number}{(card.ClosedUtc is null ? "" : " (closed)")}",
        $"{card.NewestReadUtc ?? card.KeptUtc:yyyy-MM-dd}",
        card.Process == Process.Cut ? "cut" : "engrave",
        ArchiveWords.Material(card),
        card.Batch ?? "",
        card.Machine,
        card.NewestReadingId is null ? "not read" : $"r{card.NewestReadingId}{(card.Readings > 1 ? $" and {card.Readings - 1} more" : "")}",
        card.Recommendations.Count == 0 ? "" : ArchiveWords.Setting(card.Recommendations[0]),
        card.Title,
        string.Join(' ', card.Tags),
    ];
}
