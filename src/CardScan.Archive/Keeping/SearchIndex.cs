namespace CardScan.Archive;

/// <summary>The words by which a card is found: title, number, material, batch, machine, photos, notes and tags.</summary>
internal static class SearchIndex
{
    private const string OfCards = """
        SELECT card.id, concat_ws(' ', card.number, card.title, material.own_name, batch.own_name, machine.own_name,
            nullif(material.name, material.own_name), nullif(batch.name, batch.own_name), nullif(machine.name, machine.own_name),
            (SELECT string_agg(photo.file_name, ' ') FROM reading JOIN photo ON photo.reading_id = reading.id
                WHERE reading.card_id = card.id),
            (SELECT string_agg(text, ' ') FROM (
                SELECT text FROM note WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id)
                UNION ALL
                SELECT word FROM tag WHERE card_id = card.id OR batch_id = card.batch_id
                    OR reading_id IN (SELECT id FROM reading WHERE card_id = card.id)) AS written)) AS words
        FROM card
        JOIN material_kept AS material ON material.id = card.material_id
        JOIN machine_kept AS machine ON machine.id = card.machine_id
        LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id
        """;

    /// <summary>Brings the words of one card up to date.</summary>
    public static void Refresh(Database database, long cardId) => Put(database, "WHERE card.id = @id", ("id", cardId));

    /// <summary>Brings the words of every card of a batch up to date.</summary>
    public static void RefreshBatch(Database database, long batchId) => Put(database, "WHERE card.batch_id = @id", ("id", batchId));

    /// <summary>Brings up to date the words of every card whose material, machine or batch is kept as that of a row is.</summary>
    public static void RefreshNamed(Database database, string table, long id) => Put(
        database,
        $"""
        WHERE card.{table}_id IN (WITH RECURSIVE named (id) AS (
            SELECT @id UNION SELECT {table}.id FROM {table} JOIN named ON {table}.stands_for = named.id) SELECT id FROM named)
        """, ("id", id));

    /// <summary>Makes the words of every card anew.</summary>
    public static void Rebuild(Database database)
    {
        database.Execute("DELETE FROM card_words");
        Put(database, "");
    }

    /// <summary>Takes the words of a card away.</summary>
    public static void Remove(Database database, long cardId) =>
        database.Execute("DELETE FROM card_words WHERE rowid = @id", ("id", cardId));

    private static void Put(Database database, string where, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        List<(long Id, string Words)> cards = database.Query(
            $"{OfCards} {where}", row => (row.Long("id"), row.Text("words")), values);
        foreach ((long id, string words) in cards)
        {
            Remove(database, id);
            database.Execute(
                $"INSERT INTO card_words (rowid, words) VALUES (@id, {database.IndexedWords})",
                ("id", id), ("words", database.WordsToIndex(words)));
        }
    }
}
