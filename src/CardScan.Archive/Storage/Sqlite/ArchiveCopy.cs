using CardScan.Model;

namespace CardScan.Archive;

/// <summary>A database that must not be written, copied with its log to a temporary folder; deleted at the end.</summary>
internal sealed class ArchiveCopy : IDisposable
{
    private readonly string _folder;

    private ArchiveCopy(string folder, string database) => (_folder, Database) = (folder, database);

    /// <summary>The copy.</summary>
    public string Database { get; }

    /// <summary>Copies; or why the temporary folder cannot take it.</summary>
    /// <param name="path">The database.</param>
    /// <exception cref="IOException">The database cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static Outcome<ArchiveCopy> Of(string path)
    {
        byte[]? log = File.Exists($"{path}-wal") ? File.ReadAllBytes($"{path}-wal") : null;
        using FileStream source = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        string? folder = null;
        try
        {
            folder = Directory.CreateTempSubdirectory("cardscan-").FullName;
            string copy = Path.Combine(folder, Path.GetFileName(path));
            using (FileStream target = new(copy, FileMode.CreateNew, FileAccess.Write)) source.CopyTo(target);
            if (log is not null) File.WriteAllBytes($"{copy}-wal", log);
            return new ArchiveCopy(folder, copy);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (folder is not null) Remove(folder);
            return DiskFault.OfTemporary(e);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Remove(_folder);

    private static void Remove(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A temporary folder is the system's to clean.
        }
    }
}
