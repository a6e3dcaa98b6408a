using System.IO.Compression;
using System.Text.Json;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The entries of a bundle, distrusted: only names that CardScan writes, every content counted while it unpacks and held
/// against the hash that is its name. Nothing is ever written under a name from the zip file.
/// </summary>
internal sealed partial class BundleReader : IDisposable
{
    /// <summary>No entry unpacks to more, bytes.</summary>
    private const long MostEntryBytes = 200L * 1000 * 1000;

    /// <summary>All entries together unpack to at most this many times the zip file's own size; readings reach 30.</summary>
    private const long MostExpansion = 200;

    private readonly Stream _stream;
    private readonly ZipArchive _zip;
    private readonly Dictionary<string, ZipArchiveEntry> _entries;
    private long _bytesLeft;

    private BundleReader(Stream stream, ZipArchive zip, Dictionary<string, ZipArchiveEntry> entries) =>
        (_stream, _zip, _entries, _bytesLeft) = (stream, zip, entries, MostExpansion * stream.Length);

    /// <summary>Opens a bundle and looks at its names.</summary>
    /// <param name="path">The file.</param>
    public static Outcome<BundleReader> Open(string path)
    {
        if (!File.Exists(path)) return Refusal.OfInput("bundle-missing", $"{path} is not there", "check the name of the bundle and its folder");
        FileStream stream = File.OpenRead(path);
        try
        {
            ZipArchive zip = new(stream, ZipArchiveMode.Read, leaveOpen: true);
            Dictionary<string, ZipArchiveEntry> entries = new(StringComparer.Ordinal);
            foreach (ZipArchiveEntry entry in zip.Entries)
            {
                if (OwnName().IsMatch(entry.FullName) && entries.TryAdd(entry.FullName, entry)) continue;
                stream.Dispose();
                return Refusal.OfInput("bundle-foreign-name", $"{path} holds \"{entry.FullName}\", which no bundle of CardScan does", "give a bundle as cardscan archive export wrote it");
            }

            return new BundleReader(stream, zip, entries);
        }
        catch (InvalidDataException)
        {
            stream.Dispose();
            return Broken(path, "it is no zip file, or is cut short");
        }
    }

    /// <summary>The manifest.</summary>
    public Outcome<BundleManifest> Manifest()
    {
        Outcome<byte[]> bytes = Unpack(BundleWriter.ManifestName);
        if (bytes.IsRefused) return bytes.Refusal!;
        try
        {
            using JsonDocument document = JsonDocument.Parse(bytes.Value);
            string? format = document.RootElement.ValueKind == JsonValueKind.Object && document.RootElement.TryGetProperty("format", out JsonElement value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
            if (format is not null && format != BundleManifest.CurrentFormat && format.StartsWith("cardscan-bundle/", StringComparison.Ordinal))
                return Refusal.OfInput("bundle-newer", $"the bundle has the format {format}; this CardScan knows {BundleManifest.CurrentFormat}", "use the CardScan that wrote it");
            return document.Deserialize(BundleJson.Default.BundleManifest) is { Format: BundleManifest.CurrentFormat } manifest && IsWhole(manifest) ? manifest : Broken("the bundle", "its manifest is no manifest");
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException) // the second: a text of half a character
        {
            return Broken("the bundle", "its manifest cannot be read");
        }
    }

    /// <summary>Lists have no holes, and what is named as a file is one.</summary>
    private static bool IsWhole(BundleManifest manifest) =>
        manifest.Cards.All(card => card is { Makers: var makers } && IsWhole(makers))
        && manifest.Batches.All(batch => batch is { Makers: var makers } && IsWhole(makers))
        && manifest.Readings.All(reading => reading is { Makers: var makers } && IsWhole(makers)
            && reading.Photos.Concat(reading.Annotated).Append(reading.Report).All(name => name?.StartsWith("files/", StringComparison.Ordinal) != false));

    private static bool IsWhole(MakersPart makers) => makers.Notes.All(note => note is not null) && makers.Tags.All(tag => tag is not null);

    /// <summary>An entry whose name is the hash of its content.</summary>
    public Outcome<byte[]> Content(string name)
    {
        Outcome<byte[]> bytes = Unpack(name);
        if (bytes.IsRefused) return bytes;
        return CardJson.Sha256(bytes.Value) == Path.GetFileNameWithoutExtension(name) ? bytes : Broken("the bundle", $"{name} is not what its name says");
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _zip.Dispose();
        _stream.Dispose();
    }

    /// <summary>Why a bundle cannot be used; nothing of it was kept.</summary>
    public static Refusal Broken(string what, string why) => Refusal.OfInput("bundle-broken", $"{what} is damaged: {why}", "copy or export the bundle again; nothing of it was kept");

    private Outcome<byte[]> Unpack(string name)
    {
        if (!_entries.TryGetValue(name, out ZipArchiveEntry? entry)) return Broken("the bundle", $"\"{name}\" is missing");
        try
        {
            using Stream packed = entry.Open();
            using MemoryStream bytes = new();
            byte[] buffer = new byte[81920];
            for (int read; (read = packed.Read(buffer)) > 0;)
            {
                // The header may say anything; what counts is what comes out.
                _bytesLeft -= read;
                if (_bytesLeft < 0 || bytes.Length + read > MostEntryBytes)
                    return Refusal.OfInput("bundle-too-large", $"\"{name}\" of the bundle unpacks to far more than a bundle holds", "do not trust this file; nothing of it was kept");
                bytes.Write(buffer, 0, read);
            }

            return bytes.ToArray();
        }
        catch (InvalidDataException)
        {
            return Broken("the bundle", $"\"{name}\" cannot be unpacked");
        }
    }

    [GeneratedRegex(@"^(manifest\.json|(plans|readings)/[0-9a-f]{64}\.json|files/[0-9a-f]{64}\.(jpg|png|tif|webp|avif|heic|html|bin))\z", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, 1000)]
    private static partial Regex OwnName();
}
