using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Removes cards, readings and the files that nothing else needs.</summary>
internal sealed class Pruner(Database database, FileStore files)
{
    private const string Referred = """
        SELECT kept_sha256 FROM photo WHERE kept_sha256 IS NOT NULL
        UNION SELECT annotated_sha256 FROM photo WHERE annotated_sha256 IS NOT NULL
        UNION SELECT report_sha256 FROM reading WHERE report_sha256 IS NOT NULL
        """;

    /// <summary>What removing would take away; done and taken back in memory, so that it is told exactly.</summary>
    public PrunedPart Told(PruneRequest what) => database.Tried(() => Remove(what));

    /// <summary>Removes the rows. Inside a transaction of its caller.</summary>
    public PrunedPart Remove(PruneRequest what)
    {
        long[] cards = [.. what.Subjects.Select(subject => subject.CardId).OfType<long>().Distinct()];
        SortedSet<long> readings = [.. what.Subjects.Select(subject => subject.ReadingId).OfType<long>()];
        foreach (long card in cards)
            readings.UnionWith(database.Query("SELECT id FROM reading WHERE card_id = @card", row => row.Long("id"), ("card", card)));
        if (what.Superseded) readings.UnionWith(database.Query("SELECT id FROM reading WHERE is_current = 0", row => row.Long("id")));

        HashSet<long> touched = [];
        foreach (long reading in readings)
        {
            touched.Add(database.Count("SELECT card_id FROM reading WHERE id = @reading", ("reading", reading)));
            RemoveReading(reading);
        }

        foreach (long card in cards) new CardKeeper(database, TimeProvider.System).Remove(card);
        foreach (long card in touched.Except(cards)) SearchIndex.Refresh(database, card);
        (string Sha256, string Extension, long SizeBytes)[] free = [.. database.Query(
            $"SELECT sha256, extension, size_bytes FROM file WHERE sha256 NOT IN ({Referred})",
            row => (row.Text("sha256"), row.Text("extension"), row.Long("size_bytes")))];
        database.Execute($"DELETE FROM file WHERE sha256 NOT IN ({Referred})");
        return new(
            cards.Select(CardEntry.NameOf).ToValueList(), readings.Select(ReadingEntry.NameOf).ToValueList(),
            free.Select(file => files.PathOf(file.Sha256, file.Extension)).ToValueList(), free.Sum(file => file.SizeBytes));
    }

    /// <summary>
    /// Deletes files that no row knows any more; one that another process kept again meanwhile stays. Inside a transaction of
    /// its caller.
    /// </summary>
    public void DeleteFiles(IEnumerable<string> paths)
    {
        foreach (string path in paths)
        {
            bool isKnown = database.Count(
                "SELECT count(*) FROM file WHERE sha256 = @sha256", ("sha256", Path.GetFileNameWithoutExtension(path))) > 0;
            if (!isKnown) files.Discard(path);
        }
    }

    /// <summary>Removes a reading; what gave way to it alone is current again.</summary>
    private void RemoveReading(long id)
    {
        new Currency(database).Take(id);
        database.Execute("DELETE FROM reading WHERE id = @id", ("id", id));
    }
}
