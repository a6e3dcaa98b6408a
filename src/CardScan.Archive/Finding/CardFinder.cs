using System.Text;
using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Cards that answer a query, newest first.</summary>
internal sealed class CardFinder(SqliteConnection connection)
{
    /// <summary>Thicknesses that differ by less are the same sheet's, mm.</summary>
    internal const double ThicknessToleranceMm = 0.005;

    private const string Cards = """
        SELECT card.id AS Id, card.number AS Number, card.title AS Title, card.process AS Process,
            material.name AS Material, card.thickness_mm AS ThicknessMm,
            batch.name AS Batch, machine.name AS Machine, machine.rated_optical_watts AS RatedOpticalWatts,
            card.kept_utc AS Kept, card.closed_utc AS Closed
        FROM card
        JOIN material ON material.id = card.material_id
        JOIN machine ON machine.id = card.machine_id
        LEFT JOIN batch ON batch.id = card.batch_id
        """;

    /// <summary>The cards that answer a query.</summary>
    public ValueList<CardEntry> Find(ArchiveQuery query)
    {
        DynamicParameters values = new();
        string where = Where(query, values);
        values.Add("most", query.Most);
        return connection.Query<CardRow>($"{Cards}{where} ORDER BY card.id DESC LIMIT $most", values).Select(Entry).ToValueList();
    }

    /// <summary>How many cards answer a query, whatever its limit.</summary>
    public long Count(ArchiveQuery query)
    {
        DynamicParameters values = new();
        string where = Where(query, values);
        return connection.ExecuteScalar<long>($"SELECT count(*) FROM card{where}", values);
    }

    /// <summary>Ids of the cards that answer a query.</summary>
    public IReadOnlyList<long> Ids(ArchiveQuery query)
    {
        DynamicParameters values = new();
        string where = Where(query, values);
        return [.. connection.Query<long>($"SELECT card.id FROM card{where} ORDER BY card.id", values)];
    }

    /// <summary>One card.</summary>
    public CardEntry Card(long id) => Entry(connection.QuerySingle<CardRow>($"{Cards} WHERE card.id = $id", new { id }));

    /// <summary>The open cards of a number, newest first.</summary>
    public ValueList<CardEntry> OpenCards(int number) =>
        connection.Query<CardRow>(
            $"{Cards} WHERE card.number = $number AND card.closed_utc IS NULL ORDER BY card.id DESC", new { number })
            .Select(Entry).ToValueList();

    /// <summary>The condition that cards which answer a query meet; empty where all do.</summary>
    public static string Where(ArchiveQuery query, DynamicParameters values)
    {
        List<string> all = [];
        if (SearchIndex.Search(query.Text) is { } words)
            Ask("card.id IN (SELECT rowid FROM card_words WHERE card_words MATCH $words)", "words", words);
        if (query.Number is { } number) Ask("card.number = $number", "number", number);
        if (query.Material is { } material)
            Ask("card.material_id IN (SELECT id FROM material WHERE name LIKE $material ESCAPE '\\')", "material", Part(material));
        if (query.Machine is { } machine)
            Ask("card.machine_id IN (SELECT id FROM machine WHERE name LIKE $machine ESCAPE '\\')", "machine", Part(machine));
        if (query.Batch is { } batch)
            Ask("card.batch_id IN (SELECT id FROM batch WHERE name LIKE $batch ESCAPE '\\')", "batch", Part(batch));
        if (query.ThicknessMm is { } thickness)
            Ask($"abs(card.thickness_mm - $thickness) <= {ThicknessToleranceMm}", "thickness", thickness);
        if (query.Process is { } process) Ask("card.process = $process", "process", EnumName.Of(process));
        if (query.Tag is { } tag)
        {
            Ask("""
                (card.id IN (SELECT card_id FROM tag WHERE word = $tag) OR card.batch_id IN (SELECT batch_id FROM tag WHERE word = $tag)
                OR card.id IN (SELECT reading.card_id FROM tag JOIN reading ON reading.id = tag.reading_id WHERE word = $tag))
                """, "tag", tag);
        }

        if (query.From is not null || query.Before is not null)
        {
            values.Add("from", query.From is { } from ? Database.Text(from) : "");
            values.Add("before", query.Before is { } before ? Database.Text(before) : "~");
            all.Add("""
                (card.kept_utc >= $from AND card.kept_utc < $before
                OR card.id IN (SELECT card_id FROM reading WHERE read_utc >= $from AND read_utc < $before))
                """);
        }

        if (query.Subject?.CardId is { } cardId) Ask("card.id = $cardId", "cardId", cardId);
        if (query.Subject?.ReadingId is { } readingId)
            Ask("card.id = (SELECT card_id FROM reading WHERE id = $readingId)", "readingId", readingId);
        if (query.Subject?.BatchId is { } batchId) Ask("card.batch_id = $batchId", "batchId", batchId);
        return all.Count == 0 ? "" : " WHERE " + string.Join(" AND ", all);

        void Ask(string condition, string name, object value)
        {
            all.Add(condition);
            values.Add(name, value);
        }
    }

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

    private CardEntry Entry(CardRow row)
    {
        NewestRow newest = connection.QuerySingle<NewestRow>(
            """
            SELECT count(*) AS Readings, max(id) AS Id,
                (SELECT read_utc FROM reading WHERE id = (SELECT max(id) FROM reading WHERE card_id = $Id AND is_current = 1)) AS Read
            FROM reading WHERE card_id = $Id AND is_current = 1
            """,
            new { row.Id });
        return new()
        {
            Id = row.Id,
            Number = row.Number,
            Title = row.Title,
            Process = StoredValue.Value<Process>(row.Process),
            Material = row.Material,
            ThicknessMm = row.ThicknessMm,
            Batch = row.Batch,
            Machine = row.Machine,
            RatedOpticalWatts = row.RatedOpticalWatts,
            KeptUtc = Database.Time(row.Kept),
            ClosedUtc = row.Closed is { } closed ? Database.Time(closed) : null,
            Readings = newest.Readings,
            NewestReadingId = newest.Id,
            NewestReadUtc = newest.Read is { } read ? Database.Time(read) : null,
            Recommendations = newest.Id is { } id ? new ReadingFinder(connection, files: null).Recommendations(id) : [],
            Tags = connection.Query<string>(
                """
                SELECT word FROM tag WHERE card_id = $Id
                UNION SELECT word FROM tag WHERE batch_id = (SELECT batch_id FROM card WHERE id = $Id)
                UNION SELECT word FROM tag WHERE reading_id IN (SELECT id FROM reading WHERE card_id = $Id) ORDER BY word
                """, new { row.Id }).ToValueList(),
        };
    }

    private sealed record CardRow
    {
        public long Id { get; init; }

        public int Number { get; init; }

        public string Title { get; init; } = "";

        public string Process { get; init; } = "";

        public string Material { get; init; } = "";

        public double? ThicknessMm { get; init; }

        public string? Batch { get; init; }

        public string Machine { get; init; } = "";

        public double RatedOpticalWatts { get; init; }

        public string Kept { get; init; } = "";

        public string? Closed { get; init; }
    }

    private sealed record NewestRow
    {
        public int Readings { get; init; }

        public long? Id { get; init; }

        public string? Read { get; init; }
    }
}
