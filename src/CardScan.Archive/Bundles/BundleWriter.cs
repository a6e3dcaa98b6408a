using System.IO.Compression;
using System.Text.Json;
using CardScan.Language;
using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Writes cards with everything that belongs to them into a zip file.</summary>
internal sealed class BundleWriter(SqliteConnection connection, FileStore files, TimeProvider clock)
{
    /// <summary>The manifest's name in the zip file.</summary>
    public const string ManifestName = "manifest.json";

    private readonly SortedDictionary<string, Func<byte[]>> _entries = new(StringComparer.Ordinal);

    /// <summary>Writes the bundle.</summary>
    /// <param name="cardIds">The cards; all their readings go with them.</param>
    /// <param name="stream">Where to.</param>
    /// <returns>How many cards and readings; or the refusal of a file that is not what was kept.</returns>
    public Outcome<BundlePart> Write(IReadOnlyList<long> cardIds, Stream stream)
    {
        BundleManifest manifest = new()
        {
            Format = BundleManifest.CurrentFormat,
            MadeUtc = Database.Text(clock.GetUtcNow()),
            Cards = [.. cardIds.Select(Card)],
            Readings = [.. cardIds.SelectMany(ReadingIds).Select(Reading)],
            Batches = [.. Batches(cardIds)],
        };
        using ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true);
        Put(zip, ManifestName, JsonSerializer.SerializeToUtf8Bytes(manifest, BundleJson.Default.BundleManifest));
        foreach ((string name, Func<byte[]> bytes) in _entries)
        {
            byte[] content;
            try
            {
                content = bytes();
            }
            catch (FileNotFoundException)
            {
                // Lost, or removed by another process since the export began: that removes a file after its rows.
                return Refusal.OfPlace(Codes.ArchiveFileGone, ("file", name));
            }

            if (CardJson.Sha256(content) != Path.GetFileNameWithoutExtension(name))
                return Refusal.OfPlace(Codes.ArchiveFileDamaged, ("file", name));
            Put(zip, name, content);
        }

        return new BundlePart(manifest.Cards.Count, manifest.Readings.Count);
    }

    private IEnumerable<long> ReadingIds(long card) =>
        connection.Query("SELECT id FROM reading WHERE card_id = $card ORDER BY id", row => row.Long("id"), ("card", card));

    private static void Put(ZipArchive zip, string name, byte[] bytes)
    {
        // Pictures are compressed already.
        bool isPacked = Path.GetExtension(name) is ".jpg" or ".png" or ".webp" or ".avif" or ".heic";
        using Stream entry = zip.CreateEntry(name, isPacked ? CompressionLevel.NoCompression : CompressionLevel.Optimal).Open();
        entry.Write(bytes);
    }

    private BundleCard Card(long id)
    {
        (string sha256, string kept, string? closed) = connection.Single(
            "SELECT plan_sha256, kept_utc, closed_utc FROM card WHERE id = $id",
            row => (row.Text("plan_sha256"), row.Text("kept_utc"), row.TextOrNull("closed_utc")), ("id", id));
        _entries[$"plans/{sha256}.json"] =
            () => Packed.Open(connection.Single("SELECT plan FROM card WHERE id = $id", row => row.Bytes("plan"), ("id", id)));
        return new() { PlanSha256 = sha256, KeptUtc = kept, ClosedUtc = closed, Makers = Makers("card_id", id) };
    }

    private BundleReading Reading(long id)
    {
        (string sha256, string plan, string read, string? report) = connection.Single(
            """
            SELECT reading_sha256, card.plan_sha256, read_utc, report_sha256
            FROM reading JOIN card ON card.id = card_id WHERE reading.id = $id
            """,
            row => (row.Text("reading_sha256"), row.Text("plan_sha256"), row.Text("read_utc"), row.TextOrNull("report_sha256")),
            ("id", id));
        _entries[$"readings/{sha256}.json"] = () => new ReadingFinder(connection, files).Json(id);
        (string? Kept, string? Annotated)[] photos = [.. connection.Query(
            "SELECT kept_sha256, annotated_sha256 FROM photo WHERE reading_id = $id ORDER BY position",
            row => (row.TextOrNull("kept_sha256"), row.TextOrNull("annotated_sha256")), ("id", id))];
        return new()
        {
            ReadingSha256 = sha256,
            PlanSha256 = plan,
            ReadUtc = read,
            Photos = [.. photos.Select(photo => FileNamed(photo.Kept))],
            Annotated = [.. photos.Select(photo => FileNamed(photo.Annotated))],
            Report = FileNamed(report),
            Makers = Makers("reading_id", id),
        };
    }

    private IEnumerable<BundleBatch> Batches(IReadOnlyList<long> cardIds) =>
        cardIds.Select(id => connection.Number("SELECT batch_id FROM card WHERE id = $id", ("id", id)))
            .OfType<long>().Distinct()
            .Select(id =>
            {
                (string material, string name) = connection.Single(
                    """
                    SELECT material.name AS material, batch.name FROM batch JOIN material ON material.id = material_id
                    WHERE batch.id = $id
                    """, row => (row.Text("material"), row.Text("name")), ("id", id));
                return new BundleBatch { Material = material, Name = name, Makers = Makers("batch_id", id) };
            })
            .Where(batch => batch.Makers.Notes.Count + batch.Makers.Tags.Count > 0);

    private MakersPart Makers(string column, long id) => new()
    {
        Notes = connection.Query(
            $"SELECT text, written_utc FROM note WHERE {column} = $id ORDER BY id",
            row => new BundleNote { Text = row.Text("text"), WrittenUtc = row.Text("written_utc") }, ("id", id)),
        Tags = connection.Query($"SELECT word FROM tag WHERE {column} = $id ORDER BY word", row => row.Text("word"), ("id", id)),
    };

    private string? FileNamed(string? sha256)
    {
        if (sha256 is null) return null;
        string extension = connection.Single(
            "SELECT extension FROM file WHERE sha256 = $sha256", row => row.Text("extension"), ("sha256", sha256));
        string name = $"files/{sha256}.{extension}";
        _entries[name] = () => File.ReadAllBytes(files.PathOf(sha256, extension));
        return name;
    }
}
