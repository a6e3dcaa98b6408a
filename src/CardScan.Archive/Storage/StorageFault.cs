using System.Data.Common;
using CardScan.Language;
using CardScan.Model;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace CardScan.Archive;

/// <summary>What disks and databases do, as refusals.</summary>
internal static class StorageFault
{
    // https://www.sqlite.org/rescode.html
    private const int Busy = 5, Locked = 6, ReadOnly = 8, InputOutput = 10, Corrupt = 11, Full = 13, CannotOpen = 14, NotADatabase = 26;

    /// <summary>The index that processes share could not be made as large as it must be.</summary>
    private const int SharedMemorySize = InputOutput | (19 << 8);

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
        S3Fault e => e.Refusal,
        SqliteException { SqliteErrorCode: Busy or Locked } => Refusal.OfPlace(Codes.ArchiveBusy, ("folder", folder)),
        _ when IsFull(exception) => Refusal.OfPlace(Codes.ArchiveFull, ("folder", folder)),
        SqliteException { SqliteErrorCode: ReadOnly or CannotOpen or InputOutput } e => Unwritable(folder, Plain(e.Message)),
        SqliteException { SqliteErrorCode: Corrupt or NotADatabase } => Damaged(folder),
        DbException and not SqliteException => PostgresFault.Of(exception, folder),
        InvalidDataException => Damaged(folder),
        IOException or UnauthorizedAccessException or ArgumentException { ParamName: "path" } =>
            Unwritable(folder, exception.Message.TrimEnd('.')),
        _ => null,
    };

    /// <summary>True where the disk has no room left.</summary>
    public static bool IsFull(Exception exception) => exception is SqliteException { SqliteErrorCode: Full }
        or SqliteException { SqliteExtendedErrorCode: SharedMemorySize }
        or PostgresException { SqlState: PostgresErrorCodes.DiskFull } || DiskFault.IsFull(exception);

    /// <summary>True where a database may not be written: its file, its folder, or the whole disk.</summary>
    public static bool IsReadOnly(SqliteException exception) => exception.SqliteErrorCode is ReadOnly or CannotOpen;

    /// <summary>The database's content is not what was written.</summary>
    public static Refusal Damaged(string folder) => Refusal.OfPlace(Codes.ArchiveDamaged, ("folder", folder));

    private static Refusal Unwritable(string folder, Figure why) =>
        Refusal.OfPlace(Codes.ArchiveUnwritable, ("folder", folder), ("why", why));

    /// <summary>SQLite's own words out of the library's wrapping: "SQLite Error 14: 'unable to open database file'."</summary>
    private static string Plain(string message) => message.Split('\'') is [_, string inner, ..] ? inner : message.TrimEnd('.');
}
