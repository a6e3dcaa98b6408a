using CardScan.Model;

namespace CardScan.Archive;

/// <content>Names, notes, tags and the state of cards.</content>
public sealed partial class CardArchive
{
    /// <summary>What a person means by a name: <c>r12</c> a reading, <c>c5</c> a card, <c>17</c> the newest open card of that number (or the newest closed one), anything else a batch.</summary>
    public Outcome<ArchiveSubject> Resolve(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Guard(() => new NameResolver(_database.Connection).Resolve(name.Trim()));
    }

    /// <summary>The readings that a subject stands for, newest first: itself, or the current ones of a card or of a batch's cards.</summary>
    public Outcome<ValueList<ReadingEntry>> ReadingsOf(ArchiveSubject subject)
    {
        ArgumentNullException.ThrowIfNull(subject);
        return Guard<ValueList<ReadingEntry>>(() => subject.ReadingId is { } id
            ? [ReadingFinder.Entry(id)]
            : CardFinder.Ids(new() { Subject = subject }).SelectMany(ReadingFinder.OfCard).Where(reading => reading.IsCurrent).OrderByDescending(reading => reading.Id).ToValueList());
    }
}
