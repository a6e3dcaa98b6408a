using System.IO.Compression;
using System.Text.Json;
using System.Text.RegularExpressions;
using CardScan.Language;
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
        if (!File.Exists(path)) return Refusal.OfInput(Codes.BundleMissing, ("file", path));
        FileStream stream = File.OpenRead(path);
        try
        {
            ZipArchive zip = new(stream, ZipArchiveMode.Read, leaveOpen: true);
            Dictionary<string, ZipArchiveEntry> entries = new(StringComparer.Ordinal);
            foreach (ZipArchiveEntry entry in zip.Entries)
            {
                if (OwnName().IsMatch(entry.FullName) && entries.TryAdd(entry.FullName, entry)) continue;
                stream.Dispose();
                return Refusal.OfInput(Codes.BundleForeignName, ("file", path), ("entry", entry.FullName));
            }

            return new BundleReader(stream, zip, entries);
        }
        catch (InvalidDataException)
        {
            stream.Dispose();
            return Broken(new Phrase("archive.bundle.no-zip"), path);
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
            string? format = FormatOf(document.RootElement);
            bool isOtherVersion = format != BundleManifest.CurrentFormat
                && format?.StartsWith(BundleManifest.AnyFormat, StringComparison.Ordinal) == true;
            if (isOtherVersion)
                return Refusal.OfInput(Codes.BundleNewer, ("found", format), ("known", BundleManifest.CurrentFormat));
            BundleManifest? manifest = document.Deserialize(BundleJson.Default.BundleManifest);
            return manifest is { Format: BundleManifest.CurrentFormat } && IsWhole(manifest)
                ? manifest
                : Broken(new Phrase("archive.bundle.no-manifest"));
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException) // the second: a text of half a character
        {
            return Broken(new Phrase("archive.bundle.manifest"));
        }
    }

    /// <summary>Lists have no holes, and what is named as a file is one.</summary>
    private static bool IsWhole(BundleManifest manifest) =>
        manifest.Cards.All(card => card is { Makers: var makers } && IsWhole(makers))
        && manifest.Batches.All(batch => batch is { Makers: var makers } && IsWhole(makers))
        && manifest.Readings.All(reading => reading is { Makers: var makers } && IsWhole(makers)
            && reading.Photos.Concat(reading.Annotated).Append(reading.Report)
                .All(name => name?.StartsWith("files/", StringComparison.Ordinal) != false));

    private static bool IsWhole(MakersPart makers) => makers.Notes.All(note => note is not null) && makers.Tags.All(tag => tag is not null);

    /// <summary>An entry whose name is the hash of its content.</summary>
    public Outcome<byte[]> Content(string name)
    {
        Outcome<byte[]> bytes = Unpack(name);
        if (bytes.IsRefused) return bytes;
        return CardJson.Sha256(bytes.Value) == Path.GetFileNameWithoutExtension(name)
            ? bytes
            : Broken(new Phrase("archive.bundle.changed", ("entry", name)));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _zip.Dispose();
        _stream.Dispose();
    }

    /// <summary>Why a bundle cannot be used; nothing of it was kept.</summary>
    /// <param name="why">What is wrong with it.</param>
    /// <param name="path">The file; null where it was opened already.</param>
    public static Refusal Broken(Phrase why, string? path = null) =>
        Refusal.OfInput(Codes.BundleBroken, Figures.Known(("why", why), ("file", Figures.Text(path))));

    private static string? FormatOf(JsonElement manifest) =>
        manifest.ValueKind == JsonValueKind.Object
        && manifest.TryGetProperty("format", out JsonElement format)
        && format.ValueKind == JsonValueKind.String
            ? format.GetString()
            : null;

    private Outcome<byte[]> Unpack(string name)
    {
        if (!_entries.TryGetValue(name, out ZipArchiveEntry? entry)) return Broken(new Phrase("archive.bundle.missing", ("entry", name)));
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
                    return Refusal.OfInput(Codes.BundleTooLarge, ("entry", name));
                bytes.Write(buffer, 0, read);
            }

            return bytes.ToArray();
        }
        catch (InvalidDataException)
        {
            return Broken(new Phrase("archive.bundle.packed", ("entry", name)));
        }
    }

    [GeneratedRegex(
        @"^(manifest\.json|(plans|readings)/[0-9a-f]{64}\.json|files/[0-9a-f]{64}\.(jpg|png|tif|dng|webp|avif|heic|html|bin))\z",
        RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, 1000)]
    private static partial Regex OwnName();
}
