using System.Collections.Concurrent;
using System.Data;
using System.Data.Common;
using System.Globalization;
using System.Text;
using CardScan.Language;
using CardScan.Model;
using Npgsql;

namespace CardScan.Archive;

/// <summary>The archive of a workshop: a schema of its own in a database of PostgreSQL's, which many computers use at once.</summary>
internal sealed class PostgresDatabase : Database
{
    /// <summary>The schema's name in the database.</summary>
    public const string Schema = "cardscan";

    /// <summary>Words of a card that can be found; more would not fit into its row of the index.</summary>
    private const int MostWords = 50_000;

    /// <summary>Longer words are found by their beginnings.</summary>
    private const int MostLetters = 200;

    /// <summary>How long a writer waits for another one.</summary>
    private const string LongestWait = "30s";

    /// <summary>By what connects to them: the connections of a process are used again.</summary>
    private static readonly ConcurrentDictionary<string, NpgsqlDataSource> s_sources = new();

    private readonly NpgsqlConnection _connection;

    private PostgresDatabase(NpgsqlConnection connection) => _connection = connection;

    /// <summary>What distinguishes this archive from every other; the folder of its files has it too.</summary>
    public string Id { get; private set; } = "";

    /// <summary>Script i brings schema i to i + 1; a script that was released is never changed.</summary>
    public static IReadOnlyList<string> Scripts { get; } =
        [.. Enumerable.Range(1, 4).Select(i => SqlScript.Named($"Postgres-{i}.sql"))];

    /// <inheritdoc/>
    public override DbConnection Connection => _connection;

    /// <inheritdoc/>
    public override string HasWords => "card.id IN (SELECT rowid FROM card_words WHERE words @@ CAST(@words AS tsquery))";

    /// <inheritdoc/>
    public override string IndexedWords => "CAST(@words AS tsvector)";

    /// <summary>Grows with every change that any process makes.</summary>
    public long Changes => this.Count("SELECT changes FROM archive");

    /// <summary>Opens the archive in a database of a server, or makes it.</summary>
    /// <param name="address">Where it is.</param>
    /// <param name="mayMake">True to make it where there is none.</param>
    /// <param name="scripts">The schema's scripts, in order; for tests of migrations.</param>
    /// <exception cref="NpgsqlException">The server cannot be used; see <see cref="StorageFault"/>.</exception>
    public static Outcome<PostgresDatabase> Open(PostgresAddress address, bool mayMake, IReadOnlyList<string>? scripts = null)
    {
        scripts ??= Scripts;
        PostgresDatabase database = new(s_sources.GetOrAdd(address.Connection, Source).OpenConnection());
        try
        {
            if (database.Prepare(address, mayMake, scripts) is not { } obstacle) return database;
            database.Dispose();
            return obstacle;
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    /// <summary>Text that PostgreSQL has no signs for gets the sign for that; yes and no are numbers, as in SQLite.</summary>
    public override object? Stored(object? value) => value switch
    {
        string text => Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)).Replace('\0', '\uFFFD'),
        bool answer => answer ? 1L : 0L,
        _ => value,
    };

    /// <summary>Words with their places, as PostgreSQL writes such a list: <c>'img':1 '12':2 'jpg':3</c>.</summary>
    public override string WordsToIndex(string words) => string.Join(
        ' ', Parts(WithAccentsApart(words)).Take(MostWords)
            .Select((part, i) => string.Create(CultureInfo.InvariantCulture, $"'{part}':{i + 1}")));

    /// <summary>The parts of a word must follow each other; of its last one the beginning is enough.</summary>
    public override string? WordsAsked(string? text)
    {
        string[] asked = [.. WordsOf(WithAccentsApart(string.Join(' ', WordsOf(text))))
            .Select(word => string.Join(" <-> ", Parts(word).Select(part => $"'{part}'"))).Where(word => word.Length > 0)
            .Select(word => $"{word}:*")];
        return asked.Length == 0 ? null : string.Join(" & ", asked.Select(word => $"({word})"));
    }

    /// <summary>PostgreSQL checks its pages when it reads them, and has no statement that checks them all.</summary>
    public override IReadOnlyList<string> Faults() => [];

    /// <summary>There are none: PostgreSQL refuses to take such a row, and to remove what another needs.</summary>
    public override IReadOnlyList<string> LostReferences() => [];

    /// <inheritdoc/>
    public override void MakeIndexesAnew()
    {
        string[] tables = [.. this.Query(
            "SELECT quote_ident(tablename) AS name FROM pg_tables WHERE schemaname = current_schema()", row => row.Text("name"))];
        foreach (string table in tables) this.Execute($"REINDEX TABLE {table}");
    }

    /// <inheritdoc/>
    public override void CountIdsOnFrom(string table, long last) =>
        this.Execute($"SELECT setval(pg_get_serial_sequence('{table}', 'id'), @next, FALSE)", ("next", last + 1));

    /// <summary>Does work of the queue as one. Writers of the archive are not waited for: workers would wait for each other.</summary>
    public T Apart<T>(Func<T> work)
    {
        using NpgsqlTransaction transaction = _connection.BeginTransaction();
        T done = work();
        transaction.Commit();
        return done;
    }

    /// <inheritdoc/>
    public override void Dispose() => _connection.Dispose();

    /// <inheritdoc/>
    protected override DbTransaction BeginWriting()
    {
        NpgsqlTransaction transaction = _connection.BeginTransaction();
        try
        {
            this.Execute($"SET LOCAL lock_timeout = '{LongestWait}'; UPDATE archive SET changes = changes + 1");
            return transaction;
        }
        catch
        {
            transaction.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    protected override DbTransaction BeginReading() => _connection.BeginTransaction(IsolationLevel.RepeatableRead);

    /// <summary>The builder that needs no reflection.</summary>
    private static NpgsqlDataSource Source(string connection) =>
        new NpgsqlSlimDataSourceBuilder(connection).EnableTransportSecurity().Build();

    /// <summary>Brings the schema up to date; or tells why the database is not to be used.</summary>
    private Refusal? Prepare(PostgresAddress address, bool mayMake, IReadOnlyList<string> scripts)
    {
        long version = Version();
        if (version == scripts.Count) return null;
        if (version > scripts.Count)
            return Refusal.OfInput(Codes.ArchiveNewer, ("folder", address.Name), ("found", (int)version), ("known", scripts.Count));
        if (version > 0) return Migrate(address, scripts);
        if (IsForeign()) return Refusal.OfInput(Codes.ArchiveForeign, ("file", address.Name));
        if (!mayMake) return Refusal.OfInput(Codes.ArchiveMissing, ("folder", address.Name));
        string encoding = this.Single("SHOW server_encoding", row => row.Text("server_encoding"));
        return encoding == "UTF8"
            ? Migrate(address, scripts)
            : Refusal.OfInput(Codes.ArchiveEncoding, ("database", address.Database), ("encoding", encoding));
    }

    /// <summary>The schema that the database has; 0 where it has none of ours.</summary>
    private long Version()
    {
        // Looked for in the catalogue, which shows what another process has just made; the names that a connection knows do not.
        if (this.Count("SELECT count(*) FROM pg_tables WHERE schemaname = @schema AND tablename = 'archive'", ("schema", Schema)) == 0)
            return 0;
        (long schema, Id) = this.Single("SELECT schema, id FROM archive", row => (row.Long("schema"), row.Text("id")));
        return schema;
    }

    /// <summary>True where another program has tables in the database: most often its name was mistyped.</summary>
    private bool IsForeign() => this.Count(
        "SELECT count(*) FROM pg_tables WHERE schemaname NOT IN ('pg_catalog', 'information_schema', @schema)", ("schema", Schema)) > 0;

    private Refusal? Migrate(PostgresAddress address, IReadOnlyList<string> scripts)
    {
        using NpgsqlTransaction transaction = _connection.BeginTransaction();
        // Another process may be doing it; the number is any that no other use of the lock has.
        this.Execute("SELECT pg_advisory_xact_lock(hashtext('cardscan'))");
        int version = (int)Version();
        Outcome<string> id = version > 0 ? Id : SharedFiles.Claim(address.FilesOf());
        if (id.IsRefused) return id.Refusal;
        foreach (string script in scripts.Skip(version)) this.Execute(script);
        this.Execute(
            """
            INSERT INTO archive (schema, id, changes) VALUES (@schema, @id, 0)
            ON CONFLICT (one) DO UPDATE SET schema = excluded.schema
            """, ("schema", (long)scripts.Count), ("id", id.Value));
        transaction.Commit();
        Id = id.Value;
        return null;
    }

    /// <summary>
    /// Letters and their accents as signs of their own. .NET has no table of accents without the system's; PostgreSQL brings its own.
    /// </summary>
    private string WithAccentsApart(string text) => Ascii.IsValid(text)
        ? text
        : this.Single("SELECT normalize(@text, NFD) AS apart", row => row.Text("apart"), ("text", text));

    /// <summary>Letters without their accents, small, and digits: what a word is for SQLite's index too.</summary>
    /// <param name="apart">Text whose letters stand apart from their accents.</param>
    private static IEnumerable<string> Parts(string apart)
    {
        StringBuilder part = new();
        foreach (Rune rune in apart.EnumerateRunes())
        {
            if (Rune.GetUnicodeCategory(rune) is UnicodeCategory.NonSpacingMark) continue;
            if (Rune.IsLetterOrDigit(rune) || Rune.IsNumber(rune))
            {
                if (part.Length < MostLetters) part.Append(Rune.ToLowerInvariant(rune));
                continue;
            }

            if (part.Length > 0) yield return part.ToString();
            part.Clear();
        }

        if (part.Length > 0) yield return part.ToString();
    }
}
