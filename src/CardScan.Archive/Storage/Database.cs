using System.Globalization;
using CardScan.Language;
using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace CardScan.Archive;

/// <summary>The database of an archive: opened, known to be one of ours, and of the current schema.</summary>
internal sealed class Database : IDisposable
{
    /// <summary>Its file in the archive's folder.</summary>
    public const string FileName = "archive.db";

    /// <summary>Marks the file as CardScan's ("CScn"), so that no other program's database is taken for an archive.</summary>
    private const int ApplicationId = 0x4353636E;

    private const int HeaderBytes = 100;

    /// <summary>How long a writer waits for another one, seconds.</summary>
    private const int WaitSeconds = 30;

    private Database(SqliteConnection connection) => Connection = connection;

    /// <summary>The open connection.</summary>
    public SqliteConnection Connection { get; }

    /// <summary>Opens the database of a folder, or makes it.</summary>
    /// <param name="folder">The archive's folder; it is there.</param>
    /// <param name="scripts">The schema's scripts, in order; for tests of migrations.</param>
    /// <exception cref="SqliteException">The file cannot be used; see <see cref="StorageFault"/>.</exception>
    public static Outcome<Database> Open(string folder, IReadOnlyList<string>? scripts = null)
    {
        // SQLite takes a file that is shorter than its own header for an empty one, and writes over it.
        FileInfo file = new(Path.Combine(folder, FileName));
        if (file is { Exists: true, Length: > 0 and < HeaderBytes }) return StorageFault.Damaged(folder);
        SqliteConnectionStringBuilder source = new()
        {
            DataSource = file.FullName,
            ForeignKeys = true,
            Pooling = false, // a command opens it once; a pooled connection would hold the file after it was closed
            DefaultTimeout = WaitSeconds,
        };
        SqliteConnection connection = new(source.ConnectionString);
        try
        {
            connection.Open();
            if ((Unreadable(connection, folder) ?? FirstObstacle(connection, folder, scripts ?? Schema.Scripts)) is { } obstacle)
            {
                connection.Dispose();
                return obstacle;
            }

            if (connection.ExecuteScalar<string>("PRAGMA journal_mode") != "wal") connection.Execute("PRAGMA journal_mode = WAL");
            connection.Execute("PRAGMA synchronous = FULL");
            Schema.Migrate(connection, scripts ?? Schema.Scripts, ApplicationId);
            return new Database(connection);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Does work as one: all of it is kept, or, where it is refused or fails, nothing. Waits for other writers first.</summary>
    public Outcome<T> Write<T>(Func<Outcome<T>> work)
    {
        using SqliteTransaction transaction = Connection.BeginTransaction(deferred: false);
        Outcome<T> outcome = work();
        if (!outcome.IsRefused) transaction.Commit();
        return outcome;
    }

    /// <summary>A time as it is stored: UTC, ISO 8601, to the millisecond.</summary>
    public const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    /// <summary>A time in <see cref="TimeFormat"/>.</summary>
    public static string Text(DateTimeOffset time) => time.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture);

    /// <summary>A stored time.</summary>
    /// <exception cref="InvalidDataException">It is none.</exception>
    public static DateTimeOffset Time(string text) =>
        TryTime(text, out DateTimeOffset time) ? time : throw new InvalidDataException($"\"{text}\" is no stored time");

    /// <summary>A time in <see cref="TimeFormat"/>, if it is one.</summary>
    public static bool TryTime(string text, out DateTimeOffset time) =>
        DateTimeOffset.TryParseExact(
            text, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out time);

    /// <inheritdoc/>
    public void Dispose() => Connection.Dispose();

    /// <summary>Every database answers this; one whose format was never written by anyone does not.</summary>
    private static Refusal? Unreadable(SqliteConnection connection, string folder)
    {
        try
        {
            connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema");
            return null;
        }
        catch (SqliteException e) when (e.SqliteErrorCode == raw.SQLITE_ERROR)
        {
            return StorageFault.Damaged(folder);
        }
    }

    /// <summary>
    /// Nothing is written before the file is known to be ours and not newer than this program. The files are looked for
    /// first and the header is read as one snapshot: another process may be making the archive at this moment.
    /// </summary>
    private static Refusal? FirstObstacle(SqliteConnection connection, string folder, IReadOnlyList<string> scripts)
    {
        bool hasFiles = Directory.Exists(new FileStore(folder).Files);
        using SqliteTransaction snapshot = connection.BeginTransaction(deferred: true);
        bool isEmpty = connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema") == 0;
        long application = connection.ExecuteScalar<long>("PRAGMA application_id");
        long version = connection.ExecuteScalar<long>("PRAGMA user_version");
        if (isEmpty && version == 0 && application == 0)
            // The files are placed after the database was made: files without it mean that it was lost or emptied.
            return hasFiles ? StorageFault.Damaged(folder) : null;
        if (application != ApplicationId)
            return Refusal.OfInput(Codes.ArchiveForeign, ("file", Path.Combine(folder, FileName)));
        if (version < 1) return StorageFault.Damaged(folder);
        return version > scripts.Count
            ? Refusal.OfInput(Codes.ArchiveNewer, ("folder", folder), ("found", (int)version), ("known", scripts.Count))
            : null;
    }
}
