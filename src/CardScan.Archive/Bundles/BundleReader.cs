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

    /// <summary>
    /// All entries together unpack to at most this many times the zip file's own size; readings reach 30, and are unpacked twice.
    /// </summary>
    private const long MostExpansion = 200;

    /// <summary>
    /// The manifest has the name of every entry, and in it 32 bytes that follow no rule: it cannot be packed into less. Half of that is
    /// demanded.
    /// </summary>
    private const int LeastManifestBytes = 16;

    /// <summary>So few that nobody names do no harm.</summary>
    private const int FewEntries = 1000;

    private readonly string _path;
    private readonly Stream _stream;
    private readonly ZipArchive _zip;
    private long _bytesLeft;

    private BundleReader(string path, Stream stream, ZipArchive zip) =>
        (_path, _stream, _zip, _bytesLeft) = (path, stream, zip, MostExpansion * stream.Length);

    /// <summary>Opens a bundle and looks at its names.</summary>
    /// <param name="path">The file.</param>
    public static Outcome<BundleReader> Open(string path)
    {
        if (!File.Exists(path)) return Refusal.OfInput(Codes.BundleMissing, ("file", path));
        FileStream stream;
        try
        {
            stream = File.OpenRead(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The archive is not to be blamed.
            return Refusal.OfPlace(Codes.FileUnreadable, ("path", path), ("cause", e.Message.TrimEnd('.')));
        }

        Outcome<BundleReader> opened = Opened(path, stream);
        if (opened.IsRefused) stream.Dispose();
        return opened;
    }

    private static Outcome<BundleReader> Opened(string path, FileStream stream)
    {
        if (ObstacleInList(path, stream) is { } unnamed) return unnamed;
        try
        {
            ZipArchive zip = new(stream, ZipArchiveMode.Read, leaveOpen: true);
            Refusal? obstacle = zip.Entries.Select(entry => ObstacleIn(zip, entry, path)).FirstOrDefault(refusal => refusal is not null);
            return obstacle is null ? new BundleReader(path, stream, zip) : obstacle;
        }
        catch (InvalidDataException)
        {
            return Broken(new Phrase("archive.bundle.no-zip"), path);
        }
    }

    /// <summary>What the zip file's list tells before it is held in memory, half a kilobyte an entry.</summary>
    private static Refusal? ObstacleInList(string path, FileStream stream)
    {
        (long entries, long manifestBytes) = ZipDirectory.Look(stream, BundleWriter.ManifestName);
        return entries <= FewEntries || entries <= manifestBytes / LeastManifestBytes ? null
            : manifestBytes == 0 ? Broken(new Phrase("archive.bundle.missing", ("entry", BundleWriter.ManifestName)), path)
            : TooMany(path, entries, named: null);
    }

    private static Refusal? ObstacleIn(ZipArchive zip, ZipArchiveEntry entry, string path) =>
        !OwnName().IsMatch(entry.FullName) ? Refusal.OfInput(Codes.BundleForeignName, ("file", path), ("entry", entry.FullName))
        // By its name, the first of several is found.
        : zip.GetEntry(entry.FullName) != entry ? Broken(new Phrase("archive.bundle.twice", ("entry", entry.FullName)), path)
        : null;

    private static Refusal TooMany(string path, long entries, long? named) => Refusal.OfInput(Codes.BundleEntries, Figures.Known(
        ("file", path), ("entries", new Number(entries, Unit.None)), ("named", named is { } count ? new Number(count, Unit.None) : null)));

    /// <summary>The manifest.</summary>
    /// <param name="scratch">Where it can be unpacked: that of a large archive is better not held in memory.</param>
    public Outcome<BundleManifest> Manifest(Stream scratch)
    {
        if (Unpack(BundleWriter.ManifestName, scratch).Refusal is { } refusal) return refusal;
        try
        {
            scratch.Position = 0;
            string? format = JsonSerializer.Deserialize(scratch, BundleJson.Default.BundleFormat)?.Format;
            bool isOtherVersion = format != BundleManifest.CurrentFormat
                && format?.StartsWith(BundleManifest.AnyFormat, StringComparison.Ordinal) == true;
            if (isOtherVersion)
                return Refusal.OfInput(Codes.BundleNewer, ("found", format!), ("known", BundleManifest.CurrentFormat));
            scratch.Position = 0;
            BundleManifest? manifest = JsonSerializer.Deserialize(scratch, BundleJson.Default.BundleManifest);
            if (manifest is not { Format: BundleManifest.CurrentFormat } || !IsWhole(manifest))
                return Broken(new Phrase("archive.bundle.no-manifest"));
            int entries = _zip.Entries.Count;
            return entries > Math.Max(FewEntries, manifest.MostEntries) ? TooMany(_path, entries, manifest.MostEntries) : manifest;
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
        && manifest.MachineChanges.All(change => change is not null)
        && manifest.Readings.All(reading => reading is { Makers: var makers } && IsWhole(makers)
            && reading.Photos.Concat(reading.Annotated).Append(reading.Report)
                .All(name => name?.StartsWith("files/", StringComparison.Ordinal) != false));

    private static bool IsWhole(MakersPart makers) => makers.Notes.All(note => note is not null) && makers.Tags.All(tag => tag is not null);

    /// <summary>A text whose name is the hash of its content.</summary>
    public Outcome<byte[]> Content(string name)
    {
        using MemoryStream bytes = new();
        return Content(name, bytes) is { } refusal ? refusal : bytes.ToArray();
    }

    /// <summary>Unpacks an entry whose name is the hash of its content.</summary>
    /// <returns>Why it is none; null where it is one.</returns>
    public Refusal? Content(string name, Stream target)
    {
        Outcome<string> hash = Unpack(name, target);
        return hash.IsRefused ? hash.Refusal
            : hash.Value == Path.GetFileNameWithoutExtension(name) ? null
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

    private Outcome<string> Unpack(string name, Stream target)
    {
        if (_zip.GetEntry(name) is not { } entry) return Broken(new Phrase("archive.bundle.missing", ("entry", name)));
        try
        {
            using Stream packed = entry.Open();
            // The header may say anything; what counts is what comes out.
            long left = MostEntryBytes;
            string? hash = HashedCopy.Run(packed, target, bytes => (left -= bytes) >= 0 && (_bytesLeft -= bytes) >= 0);
            return hash is null ? Refusal.OfInput(Codes.BundleTooLarge, ("entry", name)) : hash;
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
