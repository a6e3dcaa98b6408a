using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Which archive is used.</summary>
/// <param name="Folder">Its folder.</param>
/// <param name="Clock">Tells when something is kept.</param>
public sealed record ArchivePlace(string Folder, TimeProvider Clock)
{
    /// <summary>Does something with the archive.</summary>
    /// <param name="work">What to do.</param>
    /// <param name="mayMake">True to make the archive where there is none.</param>
    public Outcome<T> Use<T>(Func<CardArchive, Outcome<T>> work, bool mayMake = false)
    {
        ArgumentNullException.ThrowIfNull(work);
        Outcome<CardArchive> opened = CardArchive.Open(Folder, Clock, mayMake);
        if (opened.IsRefused) return opened.Refusal!;
        using CardArchive archive = opened.Value;
        return work(archive);
    }

    /// <summary>The readings that a name stands for: a reading, a card (its current readings) or a batch (those of its cards), newest first.</summary>
    /// <param name="name"><c>r12</c>, <c>c5</c>, a card number, or a batch.</param>
    /// <returns>One reading or more; or why there is none.</returns>
    public Outcome<ValueList<Reading>> Readings(string name) => Use<ValueList<Reading>>(archive =>
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        if (subject.IsRefused) return subject.Refusal!;
        Outcome<ValueList<ReadingEntry>> entries = archive.ReadingsOf(subject.Value);
        if (entries.IsRefused) return entries.Refusal!;
        if (entries.Value.Count == 0) return Refusal.OfInput("archive-no-reading", $"{subject.Value.Name} has no reading in the archive", "read its photos first: cardscan read PHOTO");
        List<Reading> readings = [];
        foreach (ReadingEntry entry in entries.Value)
        {
            Outcome<Reading> reading = archive.Reading(entry.Id);
            if (reading.IsRefused) return reading.Refusal!;
            readings.Add(reading.Value);
        }

        return readings.ToValueList();
    });
}
