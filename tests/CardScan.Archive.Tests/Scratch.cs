namespace CardScan.Archive.Tests;

/// <summary>An archive in a folder of its own, deleted afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    private readonly string _path = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    /// <summary>The archive's folder.</summary>
    internal string Folder => FolderOf("archive");

    /// <summary>What the archive is opened by.</summary>
    internal string Address => Folder;

    internal string this[string name] => Path.Combine(_path, name);

    /// <summary>The time that the archive is told.</summary>
    internal SettableClock Clock { get; } = new();

    internal string FolderOf(string name) => this[name];

    /// <summary>The address of one of several archives.</summary>
    internal string AddressOf(string name) => FolderOf(name);

    /// <summary>Rounds that a test runs of so many.</summary>
    internal static int Of(int rounds) => rounds;

    /// <summary>The files of the archive.</summary>
    internal FileStore Store => StoreOf("archive");

    internal FileStore StoreOf(string name) => new FolderStore(FolderOf(name));

    /// <summary>True from when one of several archives is being made.</summary>
    internal bool IsBegun(string name) => Directory.Exists(FolderOf(name));

    /// <summary>True where one of several archives has been made.</summary>
    internal bool IsMade(string name) => File.Exists(Path.Combine(FolderOf(name), "archive.db"));

    internal CardArchive Open() => CardArchive.Open(Address, Clock).Value;

    /// <summary>The database of the archive, which is there.</summary>
    internal Database OpenDatabase() => SqliteDatabase.Open(Folder).Value;

    public void Dispose() => Directory.Delete(_path, recursive: true);
}
