namespace CardScan.Archive.Tests;

/// <summary>An archive in a folder of its own, deleted afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    private readonly string _path = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    /// <summary>The archive's folder.</summary>
    internal string Folder => Path.Combine(_path, "archive");

    /// <summary>What the archive is opened by.</summary>
    internal string Address => Folder;

    internal string this[string name] => Path.Combine(_path, name);

    /// <summary>The time that the archive is told.</summary>
    internal SettableClock Clock { get; } = new();

    internal CardArchive Open() => CardArchive.Open(Address, Clock).Value;

    /// <summary>The database of the archive, which is there.</summary>
    internal Database OpenDatabase() => SqliteDatabase.Open(Folder).Value;

    public void Dispose() => Directory.Delete(_path, recursive: true);
}

/// <summary>A clock that stands until it is moved.</summary>
internal sealed class SettableClock : TimeProvider
{
    internal DateTimeOffset Now { get; set; } = new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
