using System.Text;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Cards that answer a query, newest first.</summary>
internal sealed class CardFinder(Database database)
{
    /// <summary>Thicknesses that differ by less are the same sheet's, mm.</summary>
    internal const double ThicknessToleranceMm = 0.005;

    /// <summary>What belongs to so many cards is asked for at once.</summary>
    private const int Together = 500;

    private const string Columns = """
        SELECT card.id, card.number, card.title, card.process, material.name AS material, card.thickness_mm,
            batch.name AS batch, machine.name AS machine, machine.rated_optical_watts, card.kept_utc, card.closed_utc
        """;

    private const string Names = """
        JOIN material_kept AS material ON material.id = card.material_id
        JOIN machine_kept AS machine ON machine.id = card.machine_id
        LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id
        """;

    /// <summary>The cards that answer a query.</summary>
    public ValueList<CardEntry> Find(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        // Names are looked up for the cards that are given, not for all among which those are chosen.
        return Entries(
            $"FROM (SELECT * FROM card{where} ORDER BY card.id DESC LIMIT @most) AS card", [.. values, ("most", query.Most)]);
    }

    /// <summary>How many cards answer a query, whatever its limit; counted as far as this goes.</summary>
    public long Count(ArchiveQuery query, long mostCounted)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        return database.Count(
            $"SELECT count(*) FROM (SELECT 1 AS found FROM card{where} LIMIT @mostCounted) AS counted",
            [.. values, ("mostCounted", mostCounted)]);
    }

    /// <summary>Ids of the cards that answer a query.</summary>
    public IReadOnlyList<long> Ids(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = Where(query);
        return database.Query($"SELECT card.id FROM card{where} ORDER BY card.id", row => row.Long("id"), values);
    }

    /// <summary>One card.</summary>
    public CardEntry Card(long id) => Cards([id]).Single();

    /// <summary>Some cards, newest first.</summary>
    public ValueList<CardEntry> Cards(IEnumerable<long> ids) =>
        ids.Chunk(Together).SelectMany(some => Entries($"FROM (SELECT * FROM card WHERE id IN ({string.Join(", ", some)})) AS card"))
            .OrderByDescending(card => card.Id).ToValueList();

    /// <summary>The open cards of a number, newest first.</summary>
    public ValueList<CardEntry> OpenCards(int number) =>
        Entries("FROM (SELECT * FROM card WHERE number = @number AND closed_utc IS NULL) AS card", ("number", number));

    /// <summary>The condition that cards which answer a query meet; empty where all do.</summary>
    public (string Where, (string Name, object? Value)[] Values) Where(ArchiveQuery query)
    {
        List<(string Name, object? Value)> values = [];
        List<string> all = [];
        if (database.WordsAsked(query.Text) is { } words)
            Ask(database.HasWords, "words", words);
        if (query.Number is { } number) Ask("card.number = @number", "number", number);
        if (query.Material is { } material) all.Add($"card.material_id IN ({Named("material", material)})");
        if (query.Machine is { } machine) all.Add($"card.machine_id IN ({Named("machine", machine)})");
        if (query.Batch is { } batch) all.Add($"card.batch_id IN ({Named("batch", batch)})");
        if (query.ThicknessMm is { } thickness)
            Ask($"abs(card.thickness_mm - @thickness) <= {ThicknessToleranceMm}", "thickness", thickness);
        if (query.Process is { } process) Ask("card.process = @process", "process", EnumName.Of(process));
        if (query.Tag is { } tag)
        {
            Ask("""
                card.id IN (SELECT card_id FROM tag WHERE word = @tag AND card_id IS NOT NULL
                    UNION SELECT card.id FROM tag JOIN card ON card.batch_id = tag.batch_id WHERE word = @tag
                    UNION SELECT reading.card_id FROM tag JOIN reading ON reading.id = tag.reading_id WHERE word = @tag)
                """, "tag", tag);
        }

        if (query.From is not null || query.Before is not null)
        {
            values.Add(("from", query.From is { } from ? Database.Text(from) : ""));
            values.Add(("before", query.Before is { } before ? Database.Text(before) : "~"));
            // Few cards are asked for their days; of many those of the days are looked for.
            bool areFew = query is { Subject: not null } or { Number: not null } or { Batch: not null } or { Material: not null };
            all.Add(areFew ? """
                (card.kept_utc >= @from AND card.kept_utc < @before
                OR EXISTS (SELECT 1 FROM reading WHERE card_id = card.id AND read_utc >= @from AND read_utc < @before))
                """ : """
                card.id IN (SELECT id FROM card WHERE kept_utc >= @from AND kept_utc < @before
                    UNION SELECT card_id FROM reading WHERE read_utc >= @from AND read_utc < @before)
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

    /// <summary>
    /// Ids of the rows whose name, or the one that they are kept under, has a text in it, and one that no row has. A database that is
    /// told the ids knows how many cards they have, and chooses its way by that.
    /// </summary>
    private string Named(string table, string text) => string.Join(", ", database.Query(
        $"SELECT id FROM {table}_kept WHERE lower(name) LIKE lower(@text) ESCAPE '\\' OR lower(own_name) LIKE lower(@text) ESCAPE '\\'",
        row => row.Long("id"), ("text", Part(text))).Prepend(0));

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

    /// <summary>What else belongs to cards is asked for when their rows have been read, for all of them together.</summary>
    private ValueList<CardEntry> Entries(string from, params ReadOnlySpan<(string Name, object? Value)> values) =>
        database.Query($"{Columns} {from} {Names} ORDER BY card.id DESC", Bare, values).Chunk(Together).SelectMany(Whole).ToValueList();

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

    private IEnumerable<CardEntry> Whole(CardEntry[] cards)
    {
        string ids = string.Join(", ", cards.Select(card => card.Id));
        var readings = database.Query(
            $"""
            SELECT newest.card_id, newest.readings, newest.id, reading.read_utc
            FROM (SELECT card_id, count(*) AS readings, max(id) AS id FROM reading
                WHERE card_id IN ({ids}) AND is_current = 1 GROUP BY card_id) AS newest
            JOIN reading ON reading.id = newest.id
            """,
            row => (
                Card: row.Long("card_id"), Count: row.Int("readings"), Newest: row.Long("id"), Read: Database.Time(row.Text("read_utc"))))
            .ToDictionary(row => row.Card);
        ILookup<long, RecommendationEntry> recommendations =
            new ReadingFinder(database, files: null).Recommendations(readings.Values.Select(row => row.Newest));
        ILookup<long, string> tags = database.Query(
            $"""
            SELECT card_id AS card, word FROM tag WHERE card_id IN ({ids})
            UNION SELECT card.id AS card, word FROM card JOIN tag ON tag.batch_id = card.batch_id WHERE card.id IN ({ids})
            UNION SELECT reading.card_id AS card, word FROM reading JOIN tag ON tag.reading_id = reading.id
                WHERE reading.card_id IN ({ids})
            ORDER BY word
            """, row => (Card: row.Long("card"), Word: row.Text("word"))).ToLookup(row => row.Card, row => row.Word);
        foreach (CardEntry card in cards)
        {
            CardEntry tagged = card with { Tags = tags[card.Id].ToValueList() };
            yield return !readings.TryGetValue(card.Id, out var read) ? tagged : tagged with
            {
                Readings = read.Count,
                NewestReadingId = read.Newest,
                NewestReadUtc = read.Read,
                Recommendations = recommendations[read.Newest].ToValueList(),
            };
        }
    }
}
