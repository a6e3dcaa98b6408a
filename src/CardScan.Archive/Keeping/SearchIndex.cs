using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>The words by which a card is found: title, number, material, batch, machine, photos, notes and tags.</summary>
internal static class SearchIndex
{
    private const string OfCards = """
        INSERT OR REPLACE INTO card_words (rowid, words)
        SELECT card.id, concat_ws(' ', card.number, card.title, material.name, batch.name, machine.name,
            (SELECT group_concat(photo.file_name, ' ') FROM reading JOIN photo ON photo.reading_id = reading.id
                WHERE reading.card_id = card.id),
            (SELECT group_concat(text, ' ') FROM (
                SELECT text FROM note WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id)
                UNION ALL
                SELECT word FROM tag WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id))))
        FROM card
        JOIN material ON material.id = card.material_id
        JOIN machine ON machine.id = card.machine_id
        LEFT JOIN batch ON batch.id = card.batch_id
        """;

    /// <summary>Brings the words of one card up to date.</summary>
    public static void Refresh(SqliteConnection connection, long cardId) =>
        connection.Execute($"{OfCards} WHERE card.id = $cardId", ("cardId", cardId));

    /// <summary>Brings the words of every card of a batch up to date.</summary>
    public static void RefreshBatch(SqliteConnection connection, long batchId) =>
        connection.Execute($"{OfCards} WHERE card.batch_id = $batchId", ("batchId", batchId));

    /// <summary>Makes the words of every card anew.</summary>
    public static void Rebuild(SqliteConnection connection)
    {
        connection.Execute("DELETE FROM card_words WHERE rowid NOT IN (SELECT id FROM card)");
        connection.Execute($"{OfCards} WHERE true");
    }

    /// <summary>A search for cards that have every word of a text, each as a beginning; null where it holds no word.</summary>
    public static string? Search(string? text)
    {
        // A NUL would end the search for SQLite, in the middle of a quotation.
        string[] words = [.. (text ?? "").Replace('\0', ' ').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            .Where(word => word.Any(char.IsLetterOrDigit))];
        // Quoted, so that no word is taken for a part of FTS5's own language.
        return words.Length == 0 ? null : string.Join(' ', words.Select(Quoted));

        static string Quoted(string word) => $"\"{word.Replace("\"", "\"\"", StringComparison.Ordinal)}\"*";
    }
}
