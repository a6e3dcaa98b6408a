using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Notes and tags that makers write on cards, readings and batches.</summary>
internal sealed class NotesAndTags(Database database)
{
    private const string OnSubject = """
        card_id IS NOT DISTINCT FROM @CardId AND reading_id IS NOT DISTINCT FROM @ReadingId
            AND batch_id IS NOT DISTINCT FROM @BatchId
        """;

    /// <summary>Writes a note. Inside a transaction of its caller.</summary>
    public void AddNote(ArchiveSubject on, string text, string writtenUtc)
    {
        database.Execute(
            """
            INSERT INTO note (card_id, reading_id, batch_id, text, written_utc)
            VALUES (@CardId, @ReadingId, @BatchId, @text, @writtenUtc) ON CONFLICT DO NOTHING
            """,
            [.. Subject(on), ("text", text), ("writtenUtc", writtenUtc)]);
        Refresh(on);
    }

    /// <summary>Puts tags on or takes them off. Inside a transaction of its caller.</summary>
    public void Tag(ArchiveSubject on, IEnumerable<string> words, bool isOff)
    {
        foreach (string word in words)
        {
            database.Execute(
                isOff
                    ? $"DELETE FROM tag WHERE {OnSubject} AND word = @word"
                    : """
                    INSERT INTO tag (card_id, reading_id, batch_id, word)
                    VALUES (@CardId, @ReadingId, @BatchId, @word) ON CONFLICT DO NOTHING
                    """,
                [.. Subject(on), ("word", word)]);
        }

        Refresh(on);
    }

    /// <summary>The notes on a subject and on what belongs to it, oldest first.</summary>
    public ValueList<NoteEntry> Notes(ArchiveSubject on) => database.Query(
        """
        SELECT note.card_id, note.reading_id, batch.name AS batch, note.text, note.written_utc
        FROM note LEFT JOIN batch ON batch.id = note.batch_id
        WHERE note.card_id = @CardId OR note.reading_id = @ReadingId OR note.batch_id = @BatchId
            OR note.reading_id IN (SELECT id FROM reading WHERE card_id = @CardId)
            OR note.batch_id = (SELECT batch_id FROM card WHERE id = @CardId)
        ORDER BY note.written_utc, note.id
        """, row => new NoteEntry(NameOf(row), row.Text("text"), Database.Time(row.Text("written_utc"))), Subject(on)).ToValueList();

    private static string NameOf(StoredRow note) => note.LongOrNull("card_id") is { } card ? CardEntry.NameOf(card)
        : note.LongOrNull("reading_id") is { } reading ? ReadingEntry.NameOf(reading)
        : note.Text("batch");

    private static (string Name, object? Value)[] Subject(ArchiveSubject on) =>
        [("CardId", on.CardId), ("ReadingId", on.ReadingId), ("BatchId", on.BatchId)];

    private long CardOf(ArchiveSubject reading) =>
        database.Count("SELECT card_id FROM reading WHERE id = @id", ("id", reading.ReadingId));

    private void Refresh(ArchiveSubject on)
    {
        if (on.BatchId is { } batch) SearchIndex.RefreshBatch(database, batch);
        else SearchIndex.Refresh(database, on.CardId ?? CardOf(on));
    }
}
