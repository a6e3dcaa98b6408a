using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>Cards of the archive as a list.</summary>
internal sealed class CardListing
{
    private const int UsualMost = 50;

    private static readonly string[] Columns =
        ["card", "number", "date", "process", "material", "batch", "machine", "reading", "setting", "title", "tags"];

    private readonly Option<bool> _json = OptionText.Json();

    private readonly Option<double?> _most = NumberOption.Create(
        "--most", NumberRange.Whole(1, 1e9), new Phrase("option.most", ("usual", UsualMost)));

    public void AddTo(Command command)
    {
        command.Options.Add(_most);
        command.Options.Add(_json);
    }

    public int Print(Terminal terminal, ArchivePlace place, ArchiveQuery query, ParseResult parsed)
    {
        int most = (int)(parsed.GetValue(_most) ?? UsualMost);
        Outcome<FoundCards> found = place.Find(query with { Most = most });
        if (found.IsRefused) return terminal.Refuse(found.Refusal!);
        ValueList<CardEntry> cards = found.Value.Cards;
        int count = (int)found.Value.Count;
        foreach (CardEntry card in cards.Where(card => card.Recommendations.Count > 0)) ArchiveMessages.WarnOf(terminal, card);
        if (parsed.GetValue(_json)) terminal.ShowRaw(JsonText.Of(cards.Select(ArchiveJson.Of)));
        else if (cards.Count > 0) TablePrinter.Print(terminal, Columns, [.. cards.Select(Row)]);
        if (cards.Count == 0) terminal.Note(Voice.Say("terminal.no-match"));
        else if (found.Value.IsUncounted)
            terminal.Note(Voice.Say("terminal.many-cards", ("shown", cards.Count), ("counted", FoundCards.MostCounted)));
        else if (count > most) terminal.Note(Voice.Say("terminal.more-cards", ("more", count - most), ("all", count)));
        return ExitCode.Done;
    }

    private static string[] Row(CardEntry card) =>
    [
        card.Name,
        card.ClosedUtc is null ? $"{card.Number}" : Voice.Say("terminal.closed-number", ("number", card.Number)),
        $"{card.NewestReadUtc ?? card.KeptUtc:yyyy-MM-dd}",
        ArchiveMessages.Process(card),
        ArchiveMessages.Material(card),
        card.Batch ?? "",
        card.Machine,
        Reading(card),
        card.Recommendations.Count == 0 ? "" : ArchiveMessages.Setting(card.Recommendations[0]),
        card.Title,
        string.Join(' ', card.Tags),
    ];

    private static string Reading(CardEntry card) => card.NewestReadingId is { } id
        ? Voice.Say("terminal.reading-and-more", ("reading", $"r{id}"), ("more", card.Readings - 1))
        : Voice.Say("terminal.not-read");
}
