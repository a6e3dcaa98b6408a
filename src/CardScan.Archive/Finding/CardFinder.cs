using System.Text;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Cards that answer a query, newest first.</summary>
internal sealed class CardFinder(Database database)
{
    /// <summary>Thicknesses that differ by less are the same sheet's, mm.</summary>
    internal const double ThicknessToleranceMm = 0.005;

    private const string Cards = """
        SELECT card.id, card.number, card.title, card.process, material.name AS material, card.thickness_mm,
            batch.name AS batch, machine.name AS machine, machine.rated_optical_watts, card.kept_utc, card.closed_utc
        FROM card
        JOIN material_kept AS material ON material.id = card.material_id
        JOIN machine_kept AS machine ON machine.id = card.machine_id
        LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id
        """;

    /// <summary>The cards that answer a query.</summary>
    public ValueList<CardEntry> Find(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        return Entries($"{Cards}{where} ORDER BY card.id DESC LIMIT @most", [.. values, ("most", query.Most)]);
    }

    /// <summary>How many cards answer a query, whatever its limit.</summary>
    public long Count(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        return database.Count($"SELECT count(*) FROM card{where}", values);
    }

    /// <summary>Ids of the cards that answer a query.</summary>
    public IReadOnlyList<long> Ids(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        return database.Query($"SELECT card.id FROM card{where} ORDER BY card.id", row => row.Long("id"), values);
    }

    /// <summary>One card.</summary>
    public CardEntry Card(long id) => Entries($"{Cards} WHERE card.id = @id", ("id", id)).Single();

    /// <summary>The open cards of a number, newest first.</summary>
    public ValueList<CardEntry> OpenCards(int number) =>
        Entries($"{Cards} WHERE card.number = @number AND card.closed_utc IS NULL ORDER BY card.id DESC", ("number", number));

    /// <summary>The condition that cards which answer a query meet; empty where all do.</summary>
    public (string Where, (string Name, object? Value)[] Values) Where(ArchiveQuery query)
    {
        List<(string Name, object? Value)> values = [];
        List<string> all = [];
        if (database.WordsAsked(query.Text) is { } words)
            Ask(database.HasWords, "words", words);
        if (query.Number is { } number) Ask("card.number = @number", "number", number);
        if (query.Material is { } material)
            Ask($"card.material_id IN (SELECT id FROM material_kept WHERE {Named("material")})", "material", Part(material));
        if (query.Machine is { } machine)
            Ask($"card.machine_id IN (SELECT id FROM machine_kept WHERE {Named("machine")})", "machine", Part(machine));
        if (query.Batch is { } batch)
            Ask($"card.batch_id IN (SELECT id FROM batch_kept WHERE {Named("batch")})", "batch", Part(batch));
        if (query.ThicknessMm is { } thickness)
            Ask($"abs(card.thickness_mm - @thickness) <= {ThicknessToleranceMm}", "thickness", thickness);
        if (query.Process is { } process) Ask("card.process = @process", "process", EnumName.Of(process));
        if (query.Tag is { } tag)
        {
            Ask("""
                (card.id IN (SELECT card_id FROM tag WHERE word = @tag) OR card.batch_id IN (SELECT batch_id FROM tag WHERE word = @tag)
                OR card.id IN (SELECT reading.card_id FROM tag JOIN reading ON reading.id = tag.reading_id WHERE word = @tag))
                """, "tag", tag);
        }

        if (query.From is not null || query.Before is not null)
        {
            values.Add(("from", query.From is { } from ? Database.Text(from) : ""));
            values.Add(("before", query.Before is { } before ? Database.Text(before) : "~"));
            all.Add("""
                (card.kept_utc >= @from AND card.kept_utc < @before
                OR card.id IN (SELECT card_id FROM reading WHERE read_utc >= @from AND read_utc < @before))
                """);
        }

        if (query.Subject?.CardId is { } cardId) Ask("card.id = @cardId", "cardId", cardId);
        if (query.Subject?.ReadingId is { } readingId)
            Ask("card.id = (SELECT card_id FROM reading WHERE id = @readingId)", "readingId", readingId);
        if (query.Subject?.BatchId is { } batchId)
        {
            Ask("""
                card.batch_id IN (SELECT id FROM batch_kept
                    WHERE (material_root, name) = (SELECT material_root, name FROM batch_kept WHERE id = @batchId))
                """, "batchId", batchId);
        }

        return (all.Count == 0 ? "" : " WHERE " + string.Join(" AND ", all), [.. values]);

        void Ask(string condition, string name, object value)
        {
            all.Add(condition);
            values.Add((name, value));
        }
    }

    /// <summary>The name that something is kept under, or the one that its cards have, has a text in it.</summary>
    private static string Named(string value) =>
        $"lower(name) LIKE lower(@{value}) ESCAPE '\\' OR lower(own_name) LIKE lower(@{value}) ESCAPE '\\'";

    /// <summary>A pattern that finds a text anywhere, whatever signs are in it.</summary>
    private static string Part(string text)
    {
        StringBuilder pattern = new("%");
        foreach (char c in text)
        {
            if (c is '%' or '_' or '\\') pattern.Append('\\');
            pattern.Append(c);
        }

        return pattern.Append('%').ToString();
    }

    /// <summary>What else belongs to a card is asked for when its row has been read.</summary>
    private ValueList<CardEntry> Entries(string sql, params ReadOnlySpan<(string Name, object? Value)> values) =>
        database.Query(sql, Bare, values).Select(Whole).ToValueList();

    private static CardEntry Bare(StoredRow row) => new()
    {
        Id = row.Long("id"),
        Number = row.Int("number"),
        Title = row.Text("title"),
        Process = StoredValue.Value<Process>(row.Text("process")),
        Material = row.Text("material"),
        ThicknessMm = row.RealOrNull("thickness_mm"),
        Batch = row.TextOrNull("batch"),
        Machine = row.Text("machine"),
        RatedOpticalWatts = row.Real("rated_optical_watts"),
        KeptUtc = Database.Time(row.Text("kept_utc")),
        ClosedUtc = row.TextOrNull("closed_utc") is { } closed ? Database.Time(closed) : null,
        Readings = 0,
    };

    private CardEntry Whole(CardEntry card)
    {
        (int readings, long? newest, string? read) = database.Single(
            """
            SELECT count(*) AS readings, max(id) AS newest,
                (SELECT read_utc FROM reading WHERE id = (SELECT max(id) FROM reading WHERE card_id = @id AND is_current = 1)) AS read
            FROM reading WHERE card_id = @id AND is_current = 1
            """,
            row => (row.Int("readings"), row.LongOrNull("newest"), row.TextOrNull("read")), ("id", card.Id));
        return card with
        {
            Readings = readings,
            NewestReadingId = newest,
            NewestReadUtc = read is null ? null : Database.Time(read),
            Recommendations = newest is { } id ? new ReadingFinder(database, files: null).Recommendations(id) : [],
            Tags = database.Query(
                """
                SELECT word FROM tag WHERE card_id = @id
                UNION SELECT word FROM tag WHERE batch_id = (SELECT batch_id FROM card WHERE id = @id)
                UNION SELECT word FROM tag WHERE reading_id IN (SELECT id FROM reading WHERE card_id = @id) ORDER BY word
                """, row => row.Text("word"), ("id", card.Id)).ToValueList(),
        };
    }
}
