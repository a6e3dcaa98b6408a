using CardScan.Model;

namespace CardScan.Archive;

/// <summary>A file written in full under a temporary name, waiting to be placed.</summary>
/// <param name="Sha256">Fingerprint of its content.</param>
/// <param name="Extension">Extension without the dot.</param>
/// <param name="Temporary">Where it waits.</param>
internal sealed record StagedFile(string Sha256, string Extension, string Temporary)
{
    /// <summary>Begins the file; its caller fills and flushes it.</summary>
    public FileStream Begin() => new(Temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None);
}

/// <summary>
/// Files that wait to be placed; what was not placed is deleted at the end. Their temporary names follow from their content, so that
/// none has to be remembered, however many there are.
/// </summary>
internal sealed class Staging(FileStore store) : IDisposable
{
    private const string Part = ".part";

    private readonly string _start = $"{Guid.NewGuid():N}";
    private string? _temporary;

    /// <summary>Writes a file in full under a temporary name.</summary>
    public StagedFile Add(ReadOnlyMemory<byte> bytes, string extension)
    {
        StagedFile file = Of(CardJson.Sha256(bytes.Span), extension);
        if (File.Exists(file.Temporary)) return file;
        using FileStream stream = file.Begin();
        store.Put(stream, bytes.Span);
        stream.Flush(flushToDisk: true);
        return file;
    }

    /// <summary>A file of some content, which is staged here or is to be.</summary>
    public StagedFile Of(string sha256, string extension) => new(sha256, extension, PathOf($"{sha256}.{extension}"));

    /// <summary>A file for what is too large for memory; gone when it is closed.</summary>
    public FileStream Scratch() =>
        new(PathOf("scratch"), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 4096, FileOptions.DeleteOnClose);

    /// <summary>Brings all of them as near to their places as they can come while nobody waits for them.</summary>
    public void Send()
    {
        foreach (string path in Waiting())
        {
            string name = Path.GetFileName(path)[(_start.Length + 1)..^Part.Length];
            store.Send(new(Path.GetFileNameWithoutExtension(name), Path.GetExtension(name)[1..], path));
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (string path in Waiting()) Durable.Discard(path);
        if (_temporary is not null) Durable.DiscardFolder(_temporary);
    }

    private string[] Waiting() =>
        (store.Incoming ?? _temporary) is { } folder && Directory.Exists(folder) ? Directory.GetFiles(folder, $"{_start}.*") : [];

    private string PathOf(string name)
    {
        if (store.Incoming is { } incoming) Directory.CreateDirectory(incoming);
        else _temporary ??= Directory.CreateTempSubdirectory("cardscan-").FullName;
        return Path.Combine(store.Incoming ?? _temporary!, $"{_start}.{name}{Part}");
    }
}
