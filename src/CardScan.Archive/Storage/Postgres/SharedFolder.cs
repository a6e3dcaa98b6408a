using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The folder of a workshop's files says whose it is. Files that belong to another archive would look like leftovers here, and a folder
/// of a disk that is not connected like one whose files were lost.
/// </summary>
internal static class SharedFolder
{
    private const string Mark = "archive-id";

    /// <summary>Makes a folder that of a new archive.</summary>
    /// <param name="folder">The folder; made where there is none.</param>
    /// <returns>The archive's id, that of an attempt which was broken off included; or why it is another's.</returns>
    /// <exception cref="IOException">It cannot be read or written.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static Outcome<string> Claim(string folder)
    {
        if (File.Exists(Path.Combine(folder, SqliteDatabase.FileName)) || Directory.Exists(new FileStore(folder).Files))
            return OfOther(folder);
        string mark = Path.Combine(folder, Mark);
        if (File.Exists(mark)) return File.ReadAllText(mark);
        string id = $"{Guid.NewGuid():N}";
        Directory.CreateDirectory(folder);
        File.WriteAllText(mark, id);
        Durable.FlushFolder(folder);
        return id;
    }

    /// <summary>Why the folder is not to be used with a database, which is closed then; null where they belong together.</summary>
    /// <param name="database">The archive's database.</param>
    /// <param name="folder">The folder.</param>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static Refusal? ObstacleTo(PostgresDatabase database, string folder)
    {
        bool isOurs = false;
        try
        {
            string mark = Path.Combine(folder, Mark);
            if (!File.Exists(mark)) return Refusal.OfPlace(Codes.ArchiveFilesGone, ("folder", folder));
            isOurs = File.ReadAllText(mark) == database.Id;
            return isOurs ? null : OfOther(folder);
        }
        finally
        {
            if (!isOurs) database.Dispose();
        }
    }

    private static Refusal OfOther(string folder) => Refusal.OfInput(Codes.ArchiveOtherFiles, ("folder", folder));
}
