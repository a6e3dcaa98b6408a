using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Readings and cards removed for good, on clear words.</summary>
public static class PruneArchive
{
    /// <summary>Removes, or tells what would be removed.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="names">Readings (<c>r12</c>) and cards (<c>c5</c>).</param>
    /// <param name="superseded">True for every reading whose photos were read again later.</param>
    /// <param name="isMeant">True removes; false only tells.</param>
    public static Outcome<PrunedPart> Run(ArchivePlace place, ValueList<string> names, bool superseded, bool isMeant)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(names);
        if (names.Count == 0 && !superseded) return Refusal.OfInput(Codes.PruneNothing);
        return place.Use(archive =>
        {
            List<ArchiveSubject> subjects = [];
            foreach (string name in names)
            {
                Outcome<ArchiveSubject> subject = archive.Resolve(name);
                if (subject.IsRefused) return subject.Refusal!;
                // A number means another card when the next one is planned, and a batch grows: removing wants the thing itself.
                bool isItself = string.Equals(subject.Value.Name, name.Trim(), StringComparison.OrdinalIgnoreCase);
                if (subject.Value.BatchId is not null || !isItself)
                    return Unstable(name, subject.Value);
                subjects.Add(subject.Value);
            }

            return archive.Prune(new PruneRequest(subjects.ToValueList(), superseded), isMeant);
        });
    }

    private static Refusal Unstable(string name, ArchiveSubject subject) => subject.CardId is null
        ? Refusal.OfInput(Codes.PruneName, ("name", name))
        : Refusal.OfInput(Codes.PruneName, ("name", name), ("card", subject.Name));
}
