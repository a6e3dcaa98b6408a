using System.Globalization;
using CardScan.Language;
using CardScan.Model;
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

    private readonly ArchiveCopy? _copy;

    private Database(SqliteConnection connection, Refusal? unchangeable = null, ArchiveCopy? copy = null) =>
        (Connection, Unchangeable, _copy) = (connection, unchangeable, copy);

    /// <summary>The open connection.</summary>
    public SqliteConnection Connection { get; }

    /// <summary>Opens the database of a folder, or makes it; one that must not be written is opened for reading alone.</summary>
    /// <param name="folder">The archive's folder; it is there.</param>
    /// <param name="scripts">The schema's scripts, in order; for tests of migrations.</param>
    /// <exception cref="SqliteException">The file cannot be used; see <see cref="StorageFault"/>.</exception>
    public static Outcome<Database> Open(string folder, IReadOnlyList<string>? scripts = null)
    {
        scripts ??= Schema.Scripts;
        // SQLite takes a file that is shorter than its own header for an empty one, and writes over it.
        FileInfo file = new(PathIn(folder));
        if (file is { Exists: true, Length: > 0 and < HeaderBytes }) return StorageFault.Damaged(folder);
        try
        {
            return ToWrite(file.FullName, folder, scripts, isAlone: false);
        }
        catch (SqliteException e) when (StorageFault.IsFull(e) && file.Exists)
        {
            // The index that processes share needs room; who has the archive alone keeps it in memory.
            return ToWrite(file.FullName, folder, scripts, isAlone: true);
        }
        catch (SqliteException e) when (StorageFault.IsReadOnly(e) && file.Exists)
        {
            return ToRead(file.FullName, folder, scripts);
        }
    }

    /// <summary>Where the database of a folder is: a link to it has a size and time of its own, and no log beside it.</summary>
    public static string PathIn(string folder)
    {
        string path = Path.Combine(folder, FileName);
        return File.Exists(path) ? File.ResolveLinkTarget(path, returnFinalTarget: true)?.FullName ?? path : path;
    }

    private static Outcome<Database> ToWrite(string path, string folder, IReadOnlyList<string> scripts, bool isAlone)
    {
        SqliteConnection connection = new(SourceOf(path));
        return Opened(connection, folder, scripts, () =>
        {
            // SQLite opens a file that it may not write for reading, without a word.
            if (raw.sqlite3_db_readonly(connection.Handle, "main") == 1) throw new SqliteException("", raw.SQLITE_READONLY);
            if (isAlone) connection.Execute("PRAGMA locking_mode = EXCLUSIVE");
        }, () =>
        {
            if (connection.Single("PRAGMA journal_mode", row => row.Text("journal_mode")) != "wal")
                connection.Execute("PRAGMA journal_mode = WAL");
            connection.Execute("PRAGMA synchronous = FULL");
            Schema.Migrate(connection, scripts, ApplicationId);
            return new Database(connection);
        });
    }

    /// <summary>
    /// Where nothing waits in the log the file alone is the archive. Otherwise, and where the schema is older, a copy is read:
    /// SQLite writes beside a file with a log even to read it.
    /// </summary>
    private static Outcome<Database> ToRead(string path, string folder, IReadOnlyList<string> scripts)
    {
        Refusal unchangeable = Refusal.OfPlace(Codes.ArchiveReadOnly, ("folder", folder));
        if (new FileInfo($"{path}-wal") is not { Exists: true, Length: > 0 })
        {
            SqliteConnection connection = new(SourceOf($"{new Uri(path).AbsoluteUri}?immutable=1", SqliteOpenMode.ReadOnly));
            bool isCurrent = false;
            Outcome<Database> opened = Opened(connection, folder, scripts, null, () =>
            {
                isCurrent = Schema.Version(connection) == scripts.Count;
                return new Database(connection, unchangeable);
            });
            if (opened.IsRefused || isCurrent) return opened;
            connection.Dispose();
        }

        Outcome<ArchiveCopy> copied = ArchiveCopy.Of(path);
        if (copied.IsRefused) return copied.Refusal!;
        try
        {
            Outcome<Database> opened = ToWrite(copied.Value.Database, folder, scripts, isAlone: true);
            if (!opened.IsRefused) return new Database(opened.Value.Connection, unchangeable, copied.Value);
            copied.Value.Dispose();
            return opened;
        }
        catch
        {
            copied.Value.Dispose();
            throw;
        }
    }

    private static string SourceOf(string path, SqliteOpenMode mode = SqliteOpenMode.ReadWriteCreate) => new SqliteConnectionStringBuilder
    {
        DataSource = path,
        Mode = mode,
        ForeignKeys = true,
        Pooling = false, // a command opens it once; a pooled connection would hold the file after it was closed
        DefaultTimeout = WaitSeconds,
    }.ConnectionString;

    private static Outcome<Database> Opened(
        SqliteConnection connection, string folder, IReadOnlyList<string> scripts, Action? prepare, Func<Database> finish)
    {
        try
        {
            connection.Open();
            prepare?.Invoke();
            if ((Unreadable(connection, folder) ?? FirstObstacle(connection, folder, scripts)) is { } obstacle)
            {
                connection.Dispose();
                return obstacle;
            }

            return finish();
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Why nothing can be changed; null where it can.</summary>
    public Refusal? Unchangeable { get; }

    /// <summary>Does work as one: all of it is kept, or, where it is refused or fails, nothing. Waits for other writers first.</summary>
    public Outcome<T> Write<T>(Func<Outcome<T>> work)
    {
        if (Unchangeable is { } refusal) return refusal;
        using SqliteTransaction transaction = Connection.BeginTransaction(deferred: false);
        Outcome<T> outcome = work();
        if (!outcome.IsRefused) transaction.Commit();
        return outcome;
    }

    /// <summary>Does work that only reads on the database as it is now, whatever other processes change meanwhile.</summary>
    public Outcome<T> Look<T>(Func<Outcome<T>> work)
    {
        using SqliteTransaction snapshot = Connection.BeginTransaction(deferred: true);
        return work();
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
    public void Dispose()
    {
        Connection.Dispose();
        _copy?.Dispose();
    }

    /// <summary>Every database answers this; one whose format was never written by anyone does not.</summary>
    private static Refusal? Unreadable(SqliteConnection connection, string folder)
    {
        try
        {
            connection.Count("SELECT count(*) FROM sqlite_schema");
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
        bool isEmpty = connection.Count("SELECT count(*) FROM sqlite_schema") == 0;
        long application = connection.Count("PRAGMA application_id");
        long version = connection.Count("PRAGMA user_version");
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
