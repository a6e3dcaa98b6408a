using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Where archives are, and how they are opened.</content>
public sealed partial class CardArchive
{
    /// <summary>True where a text is the address of a workshop's archive, not a folder.</summary>
    /// <param name="place">What a person gave.</param>
    public static bool IsAddress(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return PostgresAddress.IsOne(place);
    }

    /// <summary>The folder that an archive's files are in; null where they are in a bucket, or the address is none.</summary>
    /// <param name="place">Its folder, or its address.</param>
    public static string? FolderOf(string place) =>
        !IsAddress(place) ? place : PostgresAddress.Of(place) is { IsRefused: false } address ? address.Value.Folder : null;

    /// <summary>Where an archive's files are: a folder, or <c>s3://cards/shop</c>; null where the address is none.</summary>
    /// <param name="place">Its folder, or its address.</param>
    public static string? FilesOf(string place) => FolderOf(place)
        ?? (PostgresAddress.Of(place) is { IsRefused: false } address ? address.Value.Bucket!.Name : null);

    /// <summary>A file's bytes by the path that the archive told; null where it is not there.</summary>
    /// <param name="place">The archive's folder, or its address.</param>
    /// <param name="path">The path of a kept file, or of a photo in the queue.</param>
    public static Outcome<byte[]?> FileBytes(string place, string path) => StorageFault.Guard<byte[]?>(place, () =>
    {
        if (!IsAddress(place)) return new FolderStore(place).Bytes(path);
        Outcome<PostgresAddress> address = PostgresAddress.Of(place);
        return address.IsRefused ? address.Refusal! : address.Value.FilesOf().Bytes(path);
    });

    /// <summary>Another text after whatever any process has changed; null where that cannot be told.</summary>
    /// <param name="place">The archive's folder, or its address.</param>
    public static string? State(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (IsAddress(place)) return StateOfShared(place);
        string database = SqliteDatabase.PathIn(place);
        // They hold everything but pictures and pages.
        return string.Join(' ', new[] { database, $"{database}-wal" }
            .Select(path => new FileInfo(path)).Where(file => file is { Exists: true, Length: > 0 })
            .Select(file => $"{file.Length}:{file.LastWriteTimeUtc.Ticks}"));
    }

    private static string? StateOfShared(string place)
    {
        Outcome<PostgresAddress> address = PostgresAddress.Of(place);
        if (address.IsRefused) return null;
        Outcome<string> state = StorageFault.Guard<string>(address.Value.Name, () =>
        {
            Outcome<PostgresDatabase> opened = PostgresDatabase.Open(address.Value, mayMake: false);
            if (opened.IsRefused) return opened.Refusal!;
            using PostgresDatabase database = opened.Value;
            return $"{database.Changes}";
        });
        return state.IsRefused ? null : state.Value;
    }

    /// <summary>Opens an archive.</summary>
    /// <param name="place">Its folder; or <c>postgresql://user@server/database?files=/srv/cardscan</c>, a workshop's.</param>
    /// <param name="clock">Tells when something is kept.</param>
    /// <param name="mayMake">True to make an archive where there is none.</param>
    /// <param name="by">Who uses it, where what they do is to be written down; null for an archive of somebody's own.</param>
    public static Outcome<CardArchive> Open(string place, TimeProvider clock, bool mayMake = true, Actor? by = null) =>
        Open(place, clock, mayMake, write: null, by);

    // write: writes the bytes of a new file; for tests of a disk that is full.
    internal static Outcome<CardArchive> Open(
        string place, TimeProvider clock, bool mayMake, Action<FileStream, ReadOnlySpan<byte>>? write, Actor? by = null)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(clock);
        if (string.IsNullOrWhiteSpace(place)) return Refusal.OfInput(Codes.ArchiveEmptyName);
        return IsAddress(place) ? OpenShared(place, clock, mayMake, write, by) : OpenOwn(place, clock, mayMake, write, by);
    }

    private static Outcome<CardArchive> OpenShared(
        string place, TimeProvider clock, bool mayMake, Action<FileStream, ReadOnlySpan<byte>>? write, Actor? by)
    {
        Outcome<PostgresAddress> read = PostgresAddress.Of(place);
        if (read.IsRefused) return read.Refusal!;
        PostgresAddress address = read.Value;
        return StorageFault.Guard<CardArchive>(address.Name, () =>
        {
            Outcome<PostgresDatabase> opened = PostgresDatabase.Open(address, mayMake);
            if (opened.IsRefused) return opened.Refusal!;
            FileStore files = address.FilesOf(write);
            return SharedFiles.ObstacleTo(opened.Value, files) is { } obstacle
                ? obstacle
                : new CardArchive(address.Name, opened.Value, files, clock, by);
        });
    }

    private static Outcome<CardArchive> OpenOwn(
        string folder, TimeProvider clock, bool mayMake, Action<FileStream, ReadOnlySpan<byte>>? write, Actor? by)
    {
        return StorageFault.Guard<CardArchive>(folder, () =>
        {
            if (FileInTheWay(folder) is { } obstacle) return obstacle;
            if (!mayMake && !File.Exists(Path.Combine(folder, SqliteDatabase.FileName)))
                return Refusal.OfInput(Codes.ArchiveMissing, ("folder", folder));
            Directory.CreateDirectory(folder);
            Outcome<SqliteDatabase> database = SqliteDatabase.Open(folder);
            if (database.IsRefused) return database.Refusal!;
            return new CardArchive(folder, database.Value, new FolderStore(folder, write), clock, by);
        });
    }

    /// <summary>A link to nothing counts as a file: most often the disk that it leads to is not connected.</summary>
    private static Refusal? FileInTheWay(string folder)
    {
        string path = Path.TrimEndingDirectorySeparator(folder);
        if (!File.Exists(path)) return null;
        return File.ResolveLinkTarget(path, returnFinalTarget: true) is { Exists: false } target
            ? Refusal.OfPlace(Codes.ArchiveLink, ("folder", folder), ("target", target.FullName))
            : Refusal.OfInput(Codes.ArchiveIsFile, ("folder", folder));
    }
}
