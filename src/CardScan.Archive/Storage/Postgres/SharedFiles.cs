using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// A workshop's files say whose they are. Those of another archive would look like leftovers here, and a folder of a disk that is not
/// connected, or a bucket of another name, like one whose files were lost.
/// </summary>
internal static class SharedFiles
{
    /// <summary>Makes a store that of a new archive.</summary>
    /// <param name="store">The store; a folder is made where there is none.</param>
    /// <returns>The archive's id, that of an attempt which was broken off included; or why it is another's.</returns>
    /// <exception cref="IOException">It cannot be read or written.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static Outcome<string> Claim(FileStore store)
    {
        bool isOfOneComputer = store.Folder is { } folder && File.Exists(Path.Combine(folder, SqliteDatabase.FileName));
        if (isOfOneComputer || store.HasFiles) return OfOther(store);
        if (store.Mark is { } known) return known;
        string id = $"{Guid.NewGuid():N}";
        store.PutMark(id);
        return id;
    }

    /// <summary>Why a store is not to be used with a database, which is closed then; null where they belong together.</summary>
    /// <param name="database">The archive's database.</param>
    /// <param name="store">The store.</param>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static Refusal? ObstacleTo(PostgresDatabase database, FileStore store)
    {
        bool isOurs = false;
        try
        {
            if (store.Mark is not { } mark) return Refusal.OfPlace(Codes.ArchiveFilesGone, ("folder", store.Place));
            isOurs = mark == database.Id;
            return isOurs ? null : OfOther(store);
        }
        finally
        {
            if (!isOurs) database.Dispose();
        }
    }

    private static Refusal OfOther(FileStore store) => Refusal.OfInput(Codes.ArchiveOtherFiles, ("folder", store.Place));
}
