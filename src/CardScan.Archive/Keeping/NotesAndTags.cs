using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Notes and tags that makers write on cards, readings and batches.</summary>
internal sealed class NotesAndTags(SqliteConnection connection)
{
    private const string OnSubject = "card_id IS $CardId AND reading_id IS $ReadingId AND batch_id IS $BatchId";

    /// <summary>Writes a note. Inside a transaction of its caller.</summary>
    public void AddNote(ArchiveSubject on, string text, string writtenUtc)
    {
        connection.Execute(
            """
            INSERT INTO note (card_id, reading_id, batch_id, text, written_utc)
            VALUES ($CardId, $ReadingId, $BatchId, $text, $writtenUtc) ON CONFLICT DO NOTHING
            """,
            new { on.CardId, on.ReadingId, on.BatchId, text, writtenUtc });
        Refresh(on);
    }

    /// <summary>Puts tags on or takes them off. Inside a transaction of its caller.</summary>
    public void Tag(ArchiveSubject on, IEnumerable<string> words, bool isOff)
    {
        foreach (string word in words)
        {
            connection.Execute(
                isOff
                    ? $"DELETE FROM tag WHERE {OnSubject} AND word = $word"
                    : """
                    INSERT INTO tag (card_id, reading_id, batch_id, word)
                    VALUES ($CardId, $ReadingId, $BatchId, $word) ON CONFLICT DO NOTHING
                    """,
                new { on.CardId, on.ReadingId, on.BatchId, word });
        }

        Refresh(on);
    }

    /// <summary>The notes on a subject and on what belongs to it, oldest first.</summary>
    public ValueList<NoteEntry> Notes(ArchiveSubject on) => connection.Query<NoteRow>(
        """
        SELECT note.card_id AS Card, note.reading_id AS Reading, batch.name AS Batch, note.text AS Text, note.written_utc AS Written
        FROM note LEFT JOIN batch ON batch.id = note.batch_id
        WHERE note.card_id = $CardId OR note.reading_id = $ReadingId OR note.batch_id = $BatchId
            OR note.reading_id IN (SELECT id FROM reading WHERE card_id = $CardId)
            OR note.batch_id = (SELECT batch_id FROM card WHERE id = $CardId)
        ORDER BY note.written_utc, note.id
        """, new { on.CardId, on.ReadingId, on.BatchId })
        .Select(note => new NoteEntry(NameOf(note), note.Text, Database.Time(note.Written)))
        .ToValueList();

    private static string NameOf(NoteRow note) =>
        note.Card is { } card ? CardEntry.NameOf(card) : note.Reading is { } reading ? ReadingEntry.NameOf(reading) : note.Batch!;

    private long CardOf(ArchiveSubject reading) =>
        connection.ExecuteScalar<long>("SELECT card_id FROM reading WHERE id = $ReadingId", new { reading.ReadingId });

    private void Refresh(ArchiveSubject on)
    {
        if (on.BatchId is { } batch) SearchIndex.RefreshBatch(connection, batch);
        else SearchIndex.Refresh(connection, on.CardId ?? CardOf(on));
    }

    private sealed record NoteRow
    {
        public long? Card { get; init; }

        public long? Reading { get; init; }

        public string? Batch { get; init; }

        public string Text { get; init; } = "";

        public string Written { get; init; } = "";
    }
}
