using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Bundles: cards with everything that belongs to them, in one file.</content>
public sealed partial class CardArchive
{
    /// <summary>Writes the cards that answer a query, with their readings, files, notes and tags, into a zip file.</summary>
    /// <param name="query">Which cards.</param>
    /// <param name="path">The file; one that is there is not replaced.</param>
    public Outcome<BundlePart> ExportBundle(ArchiveQuery query, string path)
    {
        ArgumentNullException.ThrowIfNull(query);
        ArgumentNullException.ThrowIfNull(path);
        if (Path.Exists(path)) return Refusal.OfInput(Codes.ExportExists, ("file", path));
        LeftParts.Sweep(Path.GetDirectoryName(Path.GetFullPath(path))!, Path.GetFileName(path));
        string temporary = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            // Where the target is at fault the archive is not to be blamed.
            using FileStream opened = new(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Durable.Discard(temporary);
            return Unwritable(path, e);
        }

        try
        {
            return Guard(() =>
            {
                try
                {
                    Outcome<BundlePart> part;
                    using (FileStream stream = new(temporary, FileMode.Open, FileAccess.Write, FileShare.None))
                    {
                        part = _database.Look(() =>
                            new BundleWriter(_database, _files, _clock).Write(query, stream));
                        stream.Flush(flushToDisk: true);
                    }

                    if (!part.IsRefused) File.Move(temporary, path);
                    return part;
                }
                catch (Exception e) when (DiskFault.IsOfWriting(e))
                {
                    // The archive is only read here.
                    return Unwritable(path, e);
                }
            });
        }
        finally
        {
            Durable.Discard(temporary);
        }
    }

    private static Refusal Unwritable(string path, Exception e) => DiskFault.Of(
        e, path, "export", () => Refusal.OfPlace(Codes.ExportUnwritable, ("file", path), ("why", Why(path, e))));

    /// <summary>The system's own words name the temporary file, which nobody asked for.</summary>
    private static Figure Why(string path, Exception e) => e is DirectoryNotFoundException
        ? new Phrase("archive.no-folder", ("folder", Path.GetDirectoryName(path) ?? ""))
        : e.Message.TrimEnd('.');

    /// <summary>Keeps what a bundle holds and the archive does not, all or nothing; what it has already is not kept twice.</summary>
    /// <param name="path">The bundle.</param>
    /// <returns>How many cards and readings were new.</returns>
    public Outcome<BundlePart> ImportBundle(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Changed(() =>
        {
            Outcome<BundleReader> opened = BundleReader.Open(path);
            if (opened.IsRefused) return opened.Refusal!;
            using BundleReader bundle = opened.Value;
            using Staging staging = new(_files);
            Outcome<BundleImport> import = BundleImport.Read(bundle, staging);
            if (import.IsRefused) return import.Refusal!;
            staging.Send();
            return _database.Write(() =>
            {
                DeedBook.Write(DeedKind.BundleImported);
                return import.Value.Keep(_database, _files, _clock);
            });
        });
    }
}
