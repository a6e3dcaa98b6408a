using CardScan.Model;

namespace CardScan.Archive;

/// <summary>A file written in full under a temporary name, waiting to be placed.</summary>
/// <param name="Sha256">Fingerprint of its content.</param>
/// <param name="Extension">Extension without the dot.</param>
/// <param name="Temporary">Where it waits.</param>
internal sealed record StagedFile(string Sha256, string Extension, string Temporary);

/// <summary>
/// Files that wait to be placed; what was not placed is deleted at the end. Their temporary names follow from their content, so that
/// none has to be remembered, however many there are.
/// </summary>
internal sealed class Staging(FileStore store) : IDisposable
{
    private readonly string _start = $"{Guid.NewGuid():N}";

    /// <summary>Writes a file in full under a temporary name.</summary>
    public StagedFile Add(ReadOnlyMemory<byte> bytes, string extension)
    {
        StagedFile file = Of(CardJson.Sha256(bytes.Span), extension);
        if (File.Exists(file.Temporary)) return file;
        using FileStream stream = Begin(file);
        store.Put(stream, bytes.Span);
        stream.Flush(flushToDisk: true);
        return file;
    }

    /// <summary>A file of some content, which is staged here or is to be.</summary>
    public StagedFile Of(string sha256, string extension) => new(sha256, extension, PathOf($"{sha256}.{extension}"));

    /// <summary>Begins a file that its caller fills and flushes.</summary>
    public FileStream Begin(StagedFile file)
    {
        Directory.CreateDirectory(store.Incoming);
        return new(file.Temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None);
    }

    /// <summary>A file for what is too large for memory; gone when it is closed.</summary>
    public FileStream Scratch()
    {
        Directory.CreateDirectory(store.Incoming);
        return new(PathOf("scratch"), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 4096, FileOptions.DeleteOnClose);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!Directory.Exists(store.Incoming)) return;
        foreach (string path in Directory.GetFiles(store.Incoming, $"{_start}.*")) FileStore.Discard(path);
    }

    private string PathOf(string name) => Path.Combine(store.Incoming, $"{_start}.{name}.part");
}
