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
        if (Path.Exists(path)) return Refusal.OfInput("export-exists", $"{path} is there already", "give another name, or move it away");
        string temporary = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            return Guard(() =>
            {
                Outcome<BundlePart> part;
                using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None))
                {
                    part = new BundleWriter(_database.Connection, _files, _clock).Write(CardFinder.Ids(query), stream);
                    stream.Flush(flushToDisk: true);
                }

                if (!part.IsRefused) File.Move(temporary, path);
                return part;
            });
        }
        finally
        {
            FileStore.Discard(temporary);
        }
    }

    /// <summary>Keeps what a bundle holds and the archive does not, all or nothing; what it has already is not kept twice.</summary>
    /// <param name="path">The bundle.</param>
    /// <returns>How many cards and readings were new.</returns>
    public Outcome<BundlePart> ImportBundle(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Guard(() =>
        {
            Outcome<BundleReader> opened = BundleReader.Open(path);
            if (opened.IsRefused) return opened.Refusal!;
            using BundleReader bundle = opened.Value;
            using Staging staging = new(_files);
            Outcome<BundleImport> import = BundleImport.Read(bundle, staging);
            return import.IsRefused ? import.Refusal! : _database.Write<BundlePart>(() => import.Value.Keep(_database.Connection, _files, _clock));
        });
    }
}
