using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>What the archive has of something that a person names.</summary>
/// <param name="Cards">A card, or those of a batch; empty for a reading.</param>
/// <param name="Reading">A reading; null for anything else.</param>
public sealed record ArchiveView(ValueList<KeptCardView> Cards, KeptReadingView? Reading = null);

/// <summary>A reading as it was kept.</summary>
/// <param name="Entry">Its entry.</param>
/// <param name="Reading">The reading.</param>
public sealed record KeptReadingView(ReadingEntry Entry, Reading Reading)
{
    internal static Outcome<ArchiveView> Of(CardArchive archive, long id)
    {
        Outcome<Reading> reading = archive.Reading(id);
        if (reading.IsRefused) return reading.Refusal!;
        Outcome<ReadingEntry> entry = archive.ReadingEntry(id);
        return entry.IsRefused ? entry.Refusal! : new ArchiveView([], new(entry.Value, MaterialWords.BesideSettings(reading.Value)));
    }
}

/// <summary>A card with what belongs to it.</summary>
/// <param name="Card">The card.</param>
/// <param name="Readings">Its readings, newest first.</param>
/// <param name="Notes">The notes on it, its readings and its batch.</param>
public sealed record KeptCardView(CardEntry Card, ValueList<ReadingEntry> Readings, ValueList<NoteEntry> Notes)
{
    internal static Outcome<ArchiveView> Of(CardArchive archive, ValueList<CardEntry> cards)
    {
        List<KeptCardView> views = [];
        foreach (CardEntry card in cards)
        {
            Outcome<ValueList<ReadingEntry>> readings = archive.ReadingsOf(card.Id);
            if (readings.IsRefused) return readings.Refusal!;
            Outcome<ValueList<NoteEntry>> notes = archive.Notes(new ArchiveSubject(card.Name, CardId: card.Id));
            if (notes.IsRefused) return notes.Refusal!;
            views.Add(new(card, readings.Value, notes.Value));
        }

        return new ArchiveView(views.ToValueList());
    }
}
