using System.IO.Compression;
using System.Text.Json;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Writes cards with everything that belongs to them into a zip file, one after the other: an archive may hold more than fits into
/// memory.
/// </summary>
internal sealed class BundleWriter(Database database, FileStore files, TimeProvider clock)
{
    /// <summary>The manifest's name in the zip file.</summary>
    public const string ManifestName = "manifest.json";

    /// <summary>So much of the manifest is written at once, bytes.</summary>
    private const int ManifestPiece = 64 * 1024;

    private int _readings;

    /// <summary>Writes the bundle.</summary>
    /// <param name="query">Which cards; all their readings go with them.</param>
    /// <param name="stream">Where to.</param>
    /// <returns>How many cards and readings; or the refusal of a file that is not what was kept.</returns>
    public Outcome<BundlePart> Write(ArchiveQuery query, Stream stream)
    {
        IReadOnlyList<long> cardIds = new CardFinder(database).Ids(query);
        using ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true);
        PutManifest(zip, cardIds);
        foreach ((string name, Func<Stream?> open) in Contents(query))
        {
            if (Put(zip, name, open) is { } refusal) return refusal;
        }

        return new BundlePart(cardIds.Count, _readings);
    }

    private void PutManifest(ZipArchive zip, IReadOnlyList<long> cardIds)
    {
        using Stream entry = zip.CreateEntry(ManifestName, CompressionLevel.Optimal).Open();
        using Utf8JsonWriter json = new(entry, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteString("format", BundleManifest.CurrentFormat);
        json.WriteString("madeUtc", Database.Text(clock.GetUtcNow()));
        List("cards", cardIds, id => JsonSerializer.Serialize(json, Card(id), BundleJson.Default.BundleCard));
        List("readings", cardIds.SelectMany(ReadingIds),
            id => JsonSerializer.Serialize(json, Reading(id), BundleJson.Default.BundleReading));
        List("batches", Batches(cardIds), batch => JsonSerializer.Serialize(json, batch, BundleJson.Default.BundleBatch));
        List("machineChanges", Changes(cardIds), change => JsonSerializer.Serialize(json, change, BundleJson.Default.BundleChange));
        json.WriteEndObject();

        void List<T>(string name, IEnumerable<T> items, Action<T> write)
        {
            json.WriteStartArray(name);
            foreach (T item in items)
            {
                write(item);
                if (json.BytesPending > ManifestPiece) json.Flush();
            }

            json.WriteEndArray();
        }
    }

    /// <summary>The entries beside the manifest by name, each opened when its turn has come.</summary>
    private IEnumerable<(string Name, Func<Stream?> Open)> Contents(ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = new CardFinder(database).Where(query);
        string cards = $"(SELECT card.id FROM card{where})";
        foreach ((string sha256, string extension) in database.Query(
            $"""
            SELECT sha256, extension FROM file WHERE sha256 IN (
                SELECT kept_sha256 FROM photo JOIN reading ON reading.id = reading_id WHERE card_id IN {cards}
                UNION SELECT annotated_sha256 FROM photo JOIN reading ON reading.id = reading_id WHERE card_id IN {cards}
                UNION SELECT report_sha256 FROM reading WHERE card_id IN {cards})
            ORDER BY sha256
            """, row => (row.Text("sha256"), row.Text("extension")), values))
        {
            yield return (NameOf(sha256, extension), () => files.Open(sha256, extension));
        }

        // Sorted without their texts, for which a database would need a large temporary file.
        foreach ((long id, string sha256) in database.Query(
            $"SELECT id, plan_sha256 FROM card WHERE id IN {cards} ORDER BY plan_sha256",
            row => (row.Long("id"), row.Text("plan_sha256")), values))
        {
            yield return ($"plans/{sha256}.json", () => new MemoryStream(new CardKeeper(database, clock).PlanJson(id)));
        }

        foreach ((long id, string sha256) in database.Query(
            $"SELECT id, reading_sha256 FROM reading WHERE card_id IN {cards} ORDER BY reading_sha256",
            row => (row.Long("id"), row.Text("reading_sha256")), values))
        {
            yield return ($"readings/{sha256}.json", () => new MemoryStream(new ReadingFinder(database, files).Json(id)));
        }
    }

    private static Refusal? Put(ZipArchive zip, string name, Func<Stream?> open)
    {
        Stream? content;
        try
        {
            content = open();
        }
        catch (UnauthorizedAccessException e)
        {
            return Refusal.OfPlace(Codes.FileUnreadable, ("path", name), ("cause", e.Message.TrimEnd('.')));
        }

        // Lost, or removed by another process since the export began: that removes a file after its rows.
        if (content is null) return Refusal.OfPlace(Codes.ArchiveFileGone, ("file", name));
        // Pictures are compressed already.
        bool isPacked = Path.GetExtension(name) is ".jpg" or ".png" or ".webp" or ".avif" or ".heic";
        using (content)
        using (Stream entry = zip.CreateEntry(name, isPacked ? CompressionLevel.NoCompression : CompressionLevel.Optimal).Open())
        {
            return HashedCopy.Run(content, entry) == Path.GetFileNameWithoutExtension(name)
                ? null
                : Refusal.OfPlace(Codes.ArchiveFileDamaged, ("file", name));
        }
    }

    private IEnumerable<long> ReadingIds(long card) =>
        database.Query("SELECT id FROM reading WHERE card_id = @card ORDER BY id", row => row.Long("id"), ("card", card));

    private BundleCard Card(long id)
    {
        MakersPart makers = Makers("card_id", id);
        return database.Single(
            "SELECT plan_sha256, kept_utc, closed_utc FROM card WHERE id = @id",
            row => new BundleCard
            {
                PlanSha256 = row.Text("plan_sha256"),
                KeptUtc = row.Text("kept_utc"),
                ClosedUtc = row.TextOrNull("closed_utc"),
                Makers = makers,
            }, ("id", id));
    }

    private BundleReading Reading(long id)
    {
        _readings++;
        MakersPart makers = Makers("reading_id", id);
        List<(string? Kept, string? Annotated)> photos = database.Query(
            """
            SELECT kept_sha256, kept.extension AS kept_extension, annotated_sha256, annotated.extension AS annotated_extension
            FROM photo
            LEFT JOIN file AS kept ON kept.sha256 = kept_sha256
            LEFT JOIN file AS annotated ON annotated.sha256 = annotated_sha256
            WHERE reading_id = @id ORDER BY position
            """,
            row => (NameIn(row, "kept_sha256", "kept_extension"), NameIn(row, "annotated_sha256", "annotated_extension")), ("id", id));
        return database.Single(
            """
            SELECT reading_sha256, card.plan_sha256, read_utc, report_sha256, file.extension
            FROM reading JOIN card ON card.id = card_id LEFT JOIN file ON file.sha256 = report_sha256 WHERE reading.id = @id
            """,
            row => new BundleReading
            {
                ReadingSha256 = row.Text("reading_sha256"),
                PlanSha256 = row.Text("plan_sha256"),
                ReadUtc = row.Text("read_utc"),
                Photos = [.. photos.Select(photo => photo.Kept)],
                Annotated = [.. photos.Select(photo => photo.Annotated)],
                Report = NameIn(row, "report_sha256", "extension"),
                Makers = makers,
            }, ("id", id));
    }

    private IEnumerable<BundleBatch> Batches(IReadOnlyList<long> cardIds) =>
        cardIds.Select(id => database.Number("SELECT batch_id FROM card WHERE id = @id", ("id", id)))
            .OfType<long>().Distinct()
            .Select(id => (Id: id, Makers: Makers("batch_id", id)))
            .Where(batch => batch.Makers.Notes.Count + batch.Makers.Tags.Count > 0)
            .Select(batch => database.Single(
                """
                SELECT material.name AS material, batch.name FROM batch JOIN material ON material.id = material_id
                WHERE batch.id = @id
                """,
                row => new BundleBatch { Material = row.Text("material"), Name = row.Text("name"), Makers = batch.Makers },
                ("id", batch.Id)));

    /// <summary>Under the machine's own name: the cards have no other elsewhere.</summary>
    private IEnumerable<BundleChange> Changes(IReadOnlyList<long> cardIds) =>
        cardIds.Select(id => database.Count("SELECT machine_id FROM card WHERE id = @id", ("id", id))).Distinct()
            .SelectMany(id => database.Query(
                """
                SELECT own.own_name AS name, own.rated_optical_watts, done_on, what
                FROM machine_kept AS own
                JOIN machine_kept AS other ON other.root = own.root
                JOIN machine_change ON machine_id = other.id
                WHERE own.id = @id ORDER BY done_on, machine_change.id
                """,
                row => new BundleChange
                {
                    Machine = row.Text("name"), RatedOpticalWatts = row.Real("rated_optical_watts"), DoneOn = row.Text("done_on"),
                    What = row.Text("what"),
                }, ("id", id)));

    private MakersPart Makers(string column, long id) => new()
    {
        Notes = database.Query(
            $"SELECT text, written_utc FROM note WHERE {column} = @id ORDER BY id",
            row => new BundleNote { Text = row.Text("text"), WrittenUtc = row.Text("written_utc") }, ("id", id)),
        Tags = database.Query($"SELECT word FROM tag WHERE {column} = @id ORDER BY word", row => row.Text("word"), ("id", id)),
    };

    private static string? NameIn(StoredRow row, string sha256, string extension) =>
        row.TextOrNull(sha256) is { } kept ? NameOf(kept, row.Text(extension)) : null;

    private static string NameOf(string sha256, string extension) => $"files/{sha256}.{extension}";
}
