using System.Collections.Concurrent;

namespace CardScan.Archive.Tests;

/// <summary>An archive in a database and a folder of its own, both removed afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    /// <summary>Databases that are empty: to make one takes longer than most tests.</summary>
    private static readonly ConcurrentBag<string> s_free = [];

    private static int s_count;

    private readonly string _path = Directory.CreateTempSubdirectory("cardscan-test-").FullName;
    private readonly ConcurrentDictionary<string, string> _databases = new();

    /// <summary>The folder of the archive's files.</summary>
    internal string Folder => FolderOf("archive");

    /// <summary>What the archive is opened by.</summary>
    internal string Address => AddressOf("archive");

    internal string this[string name] => Path.Combine(_path, name);

    /// <summary>The time that the archive is told.</summary>
    internal SettableClock Clock { get; } = new();

    internal string FolderOf(string name) => this[name];

    /// <summary>The address of one of several archives.</summary>
    internal string AddressOf(string name)
    {
        string database = _databases.GetOrAdd(name, _ => s_free.TryTake(out string? free) ? free : Made());
        return $"postgresql://{PostgresServer.Owner}@127.0.0.1:{PostgresServer.Shared.Port}/{database}?files={FolderOf(name)}";
    }

    /// <summary>Rounds that a test runs of so many.</summary>
    internal static int Of(int rounds) => rounds;

    /// <summary>The files of the archive.</summary>
    internal FileStore Store => StoreOf("archive");

    internal FileStore StoreOf(string name) => PostgresAddress.Of(AddressOf(name)).Value.FilesOf();

    /// <summary>True from when one of several archives is being made.</summary>
    internal bool IsBegun(string name) => Directory.Exists(FolderOf(name));

    /// <summary>True where one of several archives has been made.</summary>
    internal bool IsMade(string name) => !CardArchive.Open(AddressOf(name), Clock, mayMake: false).IsRefused;

    internal CardArchive Open() => CardArchive.Open(Address, Clock).Value;

    /// <summary>The database of the archive, which is there.</summary>
    internal Database OpenDatabase() => PostgresDatabase.Open(PostgresAddress.Of(Address).Value, mayMake: false).Value;

    public void Dispose()
    {
        foreach (string database in _databases.Values)
        {
            PostgresServer.Shared.Sql(database, $"DROP SCHEMA IF EXISTS {PostgresDatabase.Schema} CASCADE");
            s_free.Add(database);
        }

        Directory.Delete(_path, recursive: true);
    }

    private static string Made()
    {
        string database = $"test{Interlocked.Increment(ref s_count)}";
        PostgresServer.Shared.Sql("postgres", $"CREATE DATABASE {database}");
        return database;
    }
}
