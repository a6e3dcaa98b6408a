using System.Data.Common;
using CardScan.Language;
using CardScan.Model;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace CardScan.Archive;

/// <summary>The archive of one computer: a file of SQLite's in its folder, known to be one of ours.</summary>
internal sealed class SqliteDatabase : Database
{
    /// <summary>Its file in the archive's folder.</summary>
    public const string FileName = "archive.db";

    /// <summary>Marks the file as CardScan's ("CScn"), so that no other program's database is taken for an archive.</summary>
    private const int ApplicationId = 0x4353636E;

    private const int HeaderBytes = 100;

    /// <summary>How long a writer waits for another one, seconds.</summary>
    private const int WaitSeconds = 30;

    /// <summary>SQLite's own check names every page; the first ones tell enough.</summary>
    private const int MostPageFaults = 20;

    private readonly SqliteConnection _connection;
    private readonly ArchiveCopy? _copy;

    private SqliteDatabase(SqliteConnection connection, Refusal? unchangeable = null, ArchiveCopy? copy = null) =>
        (_connection, Unchangeable, _copy) = (connection, unchangeable, copy);

    /// <inheritdoc/>
    public override DbConnection Connection => _connection;

    /// <inheritdoc/>
    public override Refusal? Unchangeable { get; }

    /// <inheritdoc/>
    public override string HasWords => "card.id IN (SELECT rowid FROM card_words WHERE card_words MATCH @words)";

    /// <inheritdoc/>
    public override string IndexedWords => "@words";

    /// <summary>Opens the database of a folder, or makes it; one that must not be written is opened for reading alone.</summary>
    /// <param name="folder">The archive's folder; it is there.</param>
    /// <param name="scripts">The schema's scripts, in order; for tests of migrations.</param>
    /// <exception cref="SqliteException">The file cannot be used; see <see cref="StorageFault"/>.</exception>
    public static Outcome<SqliteDatabase> Open(string folder, IReadOnlyList<string>? scripts = null)
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

    private static Outcome<SqliteDatabase> ToWrite(string path, string folder, IReadOnlyList<string> scripts, bool isAlone)
    {
        SqliteConnection connection = new(SourceOf(path));
        SqliteDatabase database = new(connection);
        return Opened(database, folder, scripts, () =>
        {
            // SQLite opens a file that it may not write for reading, without a word.
            if (raw.sqlite3_db_readonly(connection.Handle, "main") == 1) throw new SqliteException("", raw.SQLITE_READONLY);
            if (isAlone) database.Execute("PRAGMA locking_mode = EXCLUSIVE");
        }, () =>
        {
            if (database.Single("PRAGMA journal_mode", row => row.Text("journal_mode")) != "wal")
                database.Execute("PRAGMA journal_mode = WAL");
            database.Execute("PRAGMA synchronous = FULL");
            Schema.Migrate(database, scripts, ApplicationId);
        });
    }

    /// <summary>
    /// Where nothing waits in the log the file alone is the archive. Otherwise, and where the schema is older, a copy is read:
    /// SQLite writes beside a file with a log even to read it.
    /// </summary>
    private static Outcome<SqliteDatabase> ToRead(string path, string folder, IReadOnlyList<string> scripts)
    {
        Refusal unchangeable = Refusal.OfPlace(Codes.ArchiveReadOnly, ("folder", folder));
        if (new FileInfo($"{path}-wal") is not { Exists: true, Length: > 0 })
        {
            SqliteDatabase database = new(
                new(SourceOf($"{new Uri(path).AbsoluteUri}?immutable=1", SqliteOpenMode.ReadOnly)), unchangeable);
            bool isCurrent = false;
            Outcome<SqliteDatabase> opened = Opened(
                database, folder, scripts, null, () => isCurrent = Schema.Version(database) == scripts.Count);
            if (opened.IsRefused || isCurrent) return opened;
            database.Dispose();
        }

        Outcome<ArchiveCopy> copied = ArchiveCopy.Of(path);
        if (copied.IsRefused) return copied.Refusal!;
        try
        {
            Outcome<SqliteDatabase> opened = ToWrite(copied.Value.Database, folder, scripts, isAlone: true);
            if (!opened.IsRefused) return new SqliteDatabase(opened.Value._connection, unchangeable, copied.Value);
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

    private static Outcome<SqliteDatabase> Opened(
        SqliteDatabase database, string folder, IReadOnlyList<string> scripts, Action? prepare, Action finish)
    {
        try
        {
            database.Connection.Open();
            prepare?.Invoke();
            if ((Unreadable(database, folder) ?? FirstObstacle(database, folder, scripts)) is { } obstacle)
            {
                database.Dispose();
                return obstacle;
            }

            finish();
            return database;
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    /// <summary>Changes are made in memory, and not a page of them written.</summary>
    public override T Tried<T>(Func<T> work)
    {
        this.Execute("PRAGMA cache_spill = OFF");
        return base.Tried(work);
    }

    /// <inheritdoc/>
    public override string WordsToIndex(string words) => words;

    /// <summary>Each word is quoted, so that none is taken for a part of FTS5's own language.</summary>
    public override string? WordsAsked(string? text)
    {
        string[] words = WordsOf(text);
        return words.Length == 0 ? null : string.Join(' ', words.Select(Quoted));

        static string Quoted(string word) => $"\"{word.Replace("\"", "\"\"", StringComparison.Ordinal)}\"*";
    }

    /// <inheritdoc/>
    public override IReadOnlyList<string> Faults() =>
        [.. this.Query($"PRAGMA integrity_check({MostPageFaults})", row => row.Text("integrity_check")).Where(line => line != "ok")];

    /// <inheritdoc/>
    public override IReadOnlyList<string> LostReferences() =>
        this.Query("PRAGMA foreign_key_check", row => Voice.Say(
            "archive.check.reference",
            ("row", $"{row.LongOrNull("rowid")}"), ("table", row.Text("table")), ("parent", row.Text("parent"))));

    /// <inheritdoc/>
    public override void MakeIndexesAnew() => this.Execute("REINDEX");

    /// <summary>SQLite sees to it by itself.</summary>
    public override void CountIdsOnFrom(string table, long last)
    {
    }

    /// <inheritdoc/>
    protected override DbTransaction BeginWriting() => _connection.BeginTransaction(deferred: false);

    /// <inheritdoc/>
    protected override DbTransaction BeginReading() => _connection.BeginTransaction(deferred: true);

    /// <inheritdoc/>
    public override void Dispose()
    {
        _connection.Dispose();
        _copy?.Dispose();
    }

    /// <summary>Every database answers this; one whose format was never written by anyone does not.</summary>
    private static Refusal? Unreadable(SqliteDatabase database, string folder)
    {
        try
        {
            database.Count("SELECT count(*) FROM sqlite_schema");
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
    private static Refusal? FirstObstacle(SqliteDatabase database, string folder, IReadOnlyList<string> scripts)
    {
        bool hasFiles = new FolderStore(folder).HasFiles;
        using DbTransaction snapshot = database.BeginReading();
        bool isEmpty = database.Count("SELECT count(*) FROM sqlite_schema") == 0;
        long application = database.Count("PRAGMA application_id");
        long version = database.Count("PRAGMA user_version");
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
