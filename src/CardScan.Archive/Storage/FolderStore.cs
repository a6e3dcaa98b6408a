namespace CardScan.Archive;

/// <summary>Files in a folder. One is written and flushed in the hidden folder <c>.incoming</c>, then renamed.</summary>
/// <param name="folder">The archive's folder.</param>
/// <param name="write">Writes the bytes into the new file; for tests of a disk that is full.</param>
internal sealed class FolderStore(string folder, Action<FileStream, ReadOnlySpan<byte>>? write = null) : FileStore
{
    private readonly string _files = Path.Combine(folder, FilesPart);
    private readonly string _mark = Path.Combine(folder, MarkPart);

    /// <inheritdoc/>
    public override string Place => folder;

    /// <inheritdoc/>
    public override string Folder => folder;

    /// <inheritdoc/>
    public override string Incoming { get; } = Path.Combine(folder, ".incoming");

    /// <inheritdoc/>
    public override WaitingPhotos Waiting => new QueueFolder(folder);

    /// <inheritdoc/>
    public override bool HasFiles => Directory.Exists(_files);

    /// <inheritdoc/>
    public override string? Mark => File.Exists(_mark) ? File.ReadAllText(_mark) : null;

    /// <inheritdoc/>
    public override void PutMark(string id)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllText(_mark, id);
        Durable.FlushFolder(folder);
    }

    /// <inheritdoc/>
    public override string PathOf(string sha256, string extension) => Path.Combine(_files, sha256[..2], $"{sha256}.{extension}");

    /// <inheritdoc/>
    public override void Put(FileStream stream, ReadOnlySpan<byte> bytes)
    {
        if (write is null) base.Put(stream, bytes);
        else write(stream, bytes);
    }

    /// <summary>It is on the disk already.</summary>
    public override void Send(StagedFile file)
    {
    }

    /// <summary>Renames it and makes the name durable.</summary>
    public override long Keep(StagedFile file)
    {
        string place = PathOf(file.Sha256, file.Extension), home = Path.GetDirectoryName(place)!;
        if (IsSound(file.Sha256, file.Extension) != true)
        {
            bool isNew = !Directory.Exists(home);
            Directory.CreateDirectory(home);
            File.Move(file.Temporary, place, overwrite: true);
            Durable.FlushFolder(home);
            if (isNew)
            {
                Durable.FlushFolder(_files);
                Durable.FlushFolder(folder);
            }
        }

        return new FileInfo(place).Length;
    }

    /// <inheritdoc/>
    public override Stream? Open(string sha256, string extension)
    {
        string path = PathOf(sha256, extension);
        return File.Exists(path) ? File.OpenRead(path) : null;
    }

    /// <inheritdoc/>
    public override byte[]? Bytes(string path) => File.Exists(path) ? File.ReadAllBytes(path) : null;

    /// <inheritdoc/>
    public override IEnumerable<(string Sha256, string Extension, string Path)> Standing() => !Directory.Exists(_files)
        ? []
        : Directory.EnumerateFiles(_files, "*", SearchOption.AllDirectories)
            .Select(path => (Path.GetFileNameWithoutExtension(path), Path.GetExtension(path).TrimStart('.'), path));

    /// <inheritdoc/>
    public override IEnumerable<string> Unplaced(DateTime? settled) => !Directory.Exists(Incoming)
        ? []
        : Directory.EnumerateFiles(Incoming).Where(path => settled is null || File.GetLastWriteTimeUtc(path) <= settled);

    /// <inheritdoc/>
    public override void Delete(string path) => File.Delete(path);
}
