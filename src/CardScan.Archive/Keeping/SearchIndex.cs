using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>The words by which a card is found: title, number, material, batch, machine, photos, notes and tags.</summary>
internal static class SearchIndex
{
    private const string OfCards = """
        INSERT OR REPLACE INTO card_words (rowid, words)
        SELECT card.id, concat_ws(' ', card.number, card.title, material.own_name, batch.own_name, machine.own_name,
            nullif(material.name, material.own_name), nullif(batch.name, batch.own_name), nullif(machine.name, machine.own_name),
            (SELECT group_concat(photo.file_name, ' ') FROM reading JOIN photo ON photo.reading_id = reading.id
                WHERE reading.card_id = card.id),
            (SELECT group_concat(text, ' ') FROM (
                SELECT text FROM note WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id)
                UNION ALL
                SELECT word FROM tag WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id))))
        FROM card
        JOIN material_kept AS material ON material.id = card.material_id
        JOIN machine_kept AS machine ON machine.id = card.machine_id
        LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id
        """;

    /// <summary>Brings the words of one card up to date.</summary>
    public static void Refresh(SqliteConnection connection, long cardId) =>
        connection.Execute($"{OfCards} WHERE card.id = $cardId", ("cardId", cardId));

    /// <summary>Brings the words of every card of a batch up to date.</summary>
    public static void RefreshBatch(SqliteConnection connection, long batchId) =>
        connection.Execute($"{OfCards} WHERE card.batch_id = $batchId", ("batchId", batchId));

    /// <summary>Brings up to date the words of every card whose material, machine or batch is kept as that of a row is.</summary>
    public static void RefreshNamed(SqliteConnection connection, string table, long id) => connection.Execute(
        $"""
        {OfCards} WHERE card.{table}_id IN (WITH RECURSIVE named (id) AS (
            SELECT $id UNION SELECT {table}.id FROM {table} JOIN named ON {table}.stands_for = named.id) SELECT id FROM named)
        """, ("id", id));

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
