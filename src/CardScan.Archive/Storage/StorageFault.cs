using System.Data;
using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>What disks and databases do, as refusals.</summary>
internal static class StorageFault
{
    // https://www.sqlite.org/rescode.html
    private const int Busy = 5, Locked = 6, ReadOnly = 8, InputOutput = 10, Corrupt = 11, Full = 13, CannotOpen = 14, NotADatabase = 26, DiskFull = 28;

    /// <summary>Runs work on an archive; what its place can cause becomes a refusal.</summary>
    public static Outcome<T> Guard<T>(string folder, Func<Outcome<T>> work)
    {
        try
        {
            return work();
        }
        catch (Exception e) when (Of(e, folder) is not null)
        {
            return Of(e, folder)!;
        }
    }

    /// <summary>The refusal that an exception stands for, or null for a fault of the program.</summary>
    public static Refusal? Of(Exception exception, string folder) => exception switch
    {
        SqliteException { SqliteErrorCode: Busy or Locked } => Refusal.OfPlace("archive-busy", $"another program keeps the archive at {folder} busy", "try again when it is done"),
        SqliteException { SqliteErrorCode: Full } => Unwritable(folder, "the disk is full"),
        SqliteException { SqliteErrorCode: ReadOnly or CannotOpen or InputOutput } e => Unwritable(folder, Plain(e.Message)),
        SqliteException { SqliteErrorCode: Corrupt or NotADatabase } => Damaged(folder),
        // Dapper's word for a value that does not fit its column; ours for one that makes no sense.
        DataException or InvalidDataException => Damaged(folder),
        IOException { HResult: DiskFull } => Unwritable(folder, "the disk is full"),
        IOException or UnauthorizedAccessException or ArgumentException { ParamName: "path" } => Unwritable(folder, exception.Message.TrimEnd('.')),
        _ => null,
    };

    /// <summary>The database's content is not what was written.</summary>
    public static Refusal Damaged(string folder) => Refusal.OfPlace("archive-damaged", $"the database of the archive at {folder} is damaged",
        "leave it as it is and give another folder with --archive; take your last bundle in there (cardscan archive import), and read the photos that are newer again: they stand under files");

    private static Refusal Unwritable(string folder, string why) =>
        Refusal.OfPlace("archive-unwritable", $"the archive at {folder} cannot be used ({why})", "check the rights and the free space, or give another folder with --archive");

    /// <summary>SQLite's own words out of the library's wrapping: "SQLite Error 14: 'unable to open database file'."</summary>
    private static string Plain(string message) => message.Split('\'') is [_, string inner, ..] ? inner : message.TrimEnd('.');
}
