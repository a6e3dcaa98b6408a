using System.Diagnostics;
using System.Globalization;
using System.Text;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Scoring;
using Npgsql;

namespace CardScan.Benchmarks;

/// <summary>
/// Fills the archive of a workshop with readings, four a card, made by the server from the rows of a few that were kept in earnest. Their
/// texts are copies, so that the archive is as large as one of different readings and can be asked, but is not sound.
/// </summary>
internal static class WorkshopFill
{
    public const int ReadingsPerCard = 4, Materials = 300, BatchesPerMaterial = 10, Machines = 8;

    private const int CardsAtOnce = 5_000;

    /// <summary>Every card has a number of its own among so many that are open; the rest are closed.</summary>
    private const int OpenCards = 200;

    /// <summary>
    /// The parameters are @first and @last, the cards' own counting from 0, @all, how many there will be, and @samples, how many cards were
    /// kept in earnest: those are the first ones of the archive.
    /// </summary>
    private static readonly string[] Rows =
    [
        $"""
        INSERT INTO card (
            id, number, plan_sha256, plan, title, process, material_id, thickness_mm, batch_id, machine_id, kept_utc, closed_utc,
            wavelength_nm, beam_x_mm, beam_y_mm, beam_mode, air_is_on, air_pressure)
        SELECT @samples + 1 + c, c % 250, md5('plan' || c) || md5('of' || c), plan, 'job ' || c || ' for shelf ' || c % 97, process,
            1000 + material, thickness_mm, 1000 + {BatchesPerMaterial} * material + c / {Materials} % {BatchesPerMaterial},
            1000 + c / {Materials} % {Machines}, at, CASE WHEN c < CAST(@all AS BIGINT) - {OpenCards} THEN at END,
            wavelength_nm, beam_x_mm, beam_y_mm, beam_mode, air_is_on, air_pressure
        FROM (SELECT c, c * 7 % {Materials} AS material, 1 + c * 7 % {Materials} % @samples AS sample,
                to_char(TIMESTAMP '2026-01-01' - (CAST(@all AS BIGINT) - c) * INTERVAL '10 minutes',
                    'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS at
            FROM generate_series(CAST(@first AS BIGINT), @last) AS c) AS made
        JOIN card ON card.id = sample
        """,
        $"""
        CREATE TEMPORARY TABLE made AS SELECT @samples + 1 + c AS card_id, @samples + 1 + {ReadingsPerCard} * c + r AS reading_id, r, c,
            sample.id AS sample, 0.8 + 0.4 * random() AS factor
        FROM generate_series(CAST(@first AS BIGINT), @last) AS c CROSS JOIN generate_series(0, {ReadingsPerCard - 1}) AS r
        JOIN reading AS sample ON sample.card_id = 1 + c * 7 % {Materials} % @samples AND sample.id <= @samples
        """,
        "CREATE INDEX made_by_card ON made (card_id)",
        "ANALYZE made",
        """
        INSERT INTO reading (id, card_id, reading_sha256, reading, photo_set_sha256, is_current, report_sha256, read_utc)
        SELECT made.reading_id, made.card_id, md5('reading' || made.reading_id) || md5('of' || made.reading_id), reading,
            md5('set' || c * 4 + greatest(r, 1)) || md5('of'), CASE r WHEN 0 THEN 0 ELSE 1 END, NULL,
            to_char(CAST(kept_utc AS TIMESTAMP) + r * INTERVAL '2 minutes', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')
        FROM made JOIN reading ON reading.id = sample JOIN card ON card.id = made.card_id
        """,
        """
        INSERT INTO photo (reading_id, position, file_name, light, photo_sha256)
        SELECT reading_id, 0, 'IMG_' || reading_id || '.jpg', 'front', md5('photo' || reading_id) || md5('of') FROM made
        """,
        """
        INSERT INTO recommendation (
            reading_id, position, goal, power_percent, speed_mm_per_min, cell_row, cell_column, reason, confidence,
            interval_quantity, interval_value, interval_low, interval_high)
        SELECT made.reading_id, position, goal, power_percent, speed_mm_per_min * factor, cell_row, cell_column, reason, confidence,
            interval_quantity, interval_value, interval_low, interval_high
        FROM made JOIN recommendation ON recommendation.reading_id = sample
        """,
        """
        INSERT INTO cell
        SELECT made.reading_id, "row", "column", power_percent, speed_mm_per_min, passes, focus_offset_mm, line_interval_mm, dose,
            darkness * factor, darkness_standard_error, contrast * factor, delta_e2000, evenness, halo_mm,
            through, left_state, right_state, top_state, bottom_state, flags
        FROM made JOIN cell ON cell.reading_id = sample
        """,
        "INSERT INTO tag (card_id, word) SELECT card_id, 'tag' || c % 50 FROM made WHERE r = 0 AND c % 10 = 0",
        """
        INSERT INTO card_words (rowid, words)
        SELECT card.id, to_tsvector('simple', regexp_replace(lower(concat_ws(' ', number, title, material.name, batch.name, machine.name,
            (SELECT string_agg(file_name, ' ') FROM photo JOIN made ON made.reading_id = photo.reading_id WHERE made.card_id = card.id),
            (SELECT string_agg(word, ' ') FROM tag WHERE tag.card_id = card.id))), '[^a-z0-9]+', ' ', 'g'))
        FROM card JOIN material ON material.id = material_id JOIN batch ON batch.id = batch_id JOIN machine ON machine.id = machine_id
        WHERE card.id BETWEEN @samples + 1 + CAST(@first AS BIGINT) AND @samples + 1 + CAST(@last AS BIGINT)
        """,
        "DROP TABLE made",
    ];

    private static readonly string Names = $"""
        INSERT INTO material (id, name)
        SELECT 1000 + i, (ARRAY['birch plywood', 'cork', 'grey board', 'maple', 'slate', 'felt', 'walnut', 'bamboo', 'leather', 'acrylic'])
            [1 + i % 10] || ' no ' || i FROM generate_series(0, {Materials - 1}) AS i;
        INSERT INTO batch (id, material_id, name)
        SELECT 1000 + {BatchesPerMaterial} * i + b, 1000 + i, 'B-' || i || '-' || b
        FROM generate_series(0, {Materials - 1}) AS i CROSS JOIN generate_series(0, {BatchesPerMaterial - 1}) AS b;
        INSERT INTO machine (id, name, rated_optical_watts) SELECT 1000 + i, 'bench ' || i, 5 * (1 + i)
        FROM generate_series(0, {Machines - 1}) AS i;
        """;

    /// <summary>Fills an archive that is new.</summary>
    /// <param name="place">Its address; its user may switch the checks of references off (a superuser).</param>
    /// <param name="readings">How many.</param>
    public static void Run(string place, int readings)
    {
        int samples = KeepSamples(place);
        long begun = Stopwatch.GetTimestamp();
        using PostgresDatabase database = PostgresDatabase.Open(PostgresAddress.Of(place).Value, mayMake: false).Value;
        // Rows that follow from each other need no check, which would take most of the time.
        database.Execute("SET session_replication_role = replica");
        database.Execute(Names);
        int cards = readings / ReadingsPerCard;
        for (int first = 0; first < cards; first += CardsAtOnce)
        {
            using NpgsqlTransaction transaction = ((NpgsqlConnection)database.Connection).BeginTransaction();
            int last = Math.Min(cards, first + CardsAtOnce) - 1;
            foreach (string rows in Rows) Put(database, rows, ("@first", first), ("@last", last), ("@all", cards), ("@samples", samples));
            transaction.Commit();
            if ((first / CardsAtOnce + 1) % 10 == 0)
                Console.WriteLine($"  {(last + 1) * ReadingsPerCard:N0} after {Stopwatch.GetElapsedTime(begun).TotalSeconds:N0} s");
        }

        foreach (string table in (string[])["machine", "material", "batch", "card", "reading", "tag"])
            database.CountIdsOnFrom(table, database.Count($"SELECT max(id) FROM {table}"));
        database.Execute("SET session_replication_role = origin");
        database.Execute("VACUUM (ANALYZE)");
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{readings:N0} readings of {cards:N0} cards in {Stopwatch.GetElapsedTime(begun).TotalSeconds:N0} s"));
        Sizes(database);
    }

    /// <summary>What the tables take, with their indexes.</summary>
    public static void Sizes(Database database)
    {
        long readings = database.Count("SELECT count(*) FROM reading");
        foreach ((string table, long rows, long index) in database.Query(
            """
            SELECT relname AS name, pg_table_size(oid) AS rows, pg_indexes_size(oid) AS indexes FROM pg_class
            WHERE relkind = 'r' AND relnamespace = CAST('cardscan' AS regnamespace) AND pg_total_relation_size(oid) > 1000000
            ORDER BY pg_total_relation_size(oid) DESC
            """, row => (row.Text("name"), row.Long("rows"), row.Long("indexes"))))
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {table,-16} {rows / 1e6,9:N0} MB, indexes {index / 1e6,7:N0} MB")
                + $", {(rows + index) / readings,7} bytes a reading");
        }
    }

    private static void Put(PostgresDatabase database, string rows, params (string Name, int Value)[] values)
    {
        using NpgsqlCommand command = ((NpgsqlConnection)database.Connection).CreateCommand();
        command.CommandText = rows;
        foreach ((string name, int value) in values.Where(each => rows.Contains(each.Name, StringComparison.Ordinal)))
            command.Parameters.AddWithValue(name, NpgsqlTypes.NpgsqlDbType.Bigint, (long)value);
        command.ExecuteNonQuery();
    }

    /// <summary>The readings of the demonstration, kept as any other.</summary>
    private static int KeepSamples(string place)
    {
        using CardArchive archive = CardArchive.Open(place, TimeProvider.System).Value;
        ReadingToKeep[] samples = [.. Samples()];
        foreach (ReadingToKeep sample in samples)
            if (archive.KeepReading(sample).Value is { IsNew: false }) throw new InvalidOperationException("The archive is not new.");
        return samples.Length;
    }

    /// <summary>The readings of the demonstration, scored.</summary>
    internal static IEnumerable<ReadingToKeep> Samples()
    {
        string folder = Path.Combine(Root(), "fixtures", "demo-workshop");
        foreach (string file in Directory.GetFiles(folder, "*.json").Order(StringComparer.Ordinal))
        {
            Reading reading = CardJson.ReadReading(File.ReadAllBytes(file)).Value;
            byte[] plan = Encoding.UTF8.GetBytes(CardJson.Write(reading.Plan));
            yield return new()
            {
                PlanJson = plan,
                Reading = CardScorer.Score(reading with { PlanSha256 = CardJson.Sha256(plan) }, ScoringOptions.Default),
            };
        }
    }

    private static string Root()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "CardScan.sln"))) folder = Path.GetDirectoryName(folder)!;
        return folder;
    }
}
