namespace CardScan.Archive;

/// <summary>Files that wait to be placed; what was not placed is deleted at the end.</summary>
internal sealed class Staging(FileStore store) : IDisposable
{
    private readonly List<StagedFile> _files = [];

    /// <summary>Writes a file in full under a temporary name.</summary>
    public StagedFile Add(ReadOnlySpan<byte> bytes, string extension)
    {
        StagedFile file = store.Stage(bytes, extension);
        _files.Add(file);
        return file;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (StagedFile file in _files) FileStore.Discard(file.Temporary);
    }
}
