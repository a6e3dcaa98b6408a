namespace CardScan.Archive;

/// <summary>The photos that wait, in a folder for each job.</summary>
/// <param name="folder">The folder of the archive's files.</param>
internal sealed class QueueFolder(string folder) : WaitingPhotos
{
    private readonly string _all = Path.Combine(folder, QueuePart);

    /// <inheritdoc/>
    public override string PathOf(string job, long position, string name) => Path.Combine(_all, job, NameOf(position, name));

    /// <inheritdoc/>
    protected override string Copy(string from, string to)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(to)!);
        using FileStream read = File.OpenRead(from), written = File.Create(to);
        string sha256 = HashedCopy.Run(read, written)!;
        written.Flush(flushToDisk: true);
        return sha256;
    }

    /// <inheritdoc/>
    protected override void Settle(string job)
    {
        Durable.FlushFolder(Path.Combine(_all, job));
        Durable.FlushFolder(_all);
    }

    /// <inheritdoc/>
    public override void Discard(string job) => Durable.DiscardFolder(Path.Combine(_all, job));

    /// <inheritdoc/>
    protected override IEnumerable<(string Job, DateTime ChangedUtc)> Standing() => !Directory.Exists(_all)
        ? []
        : new DirectoryInfo(_all).EnumerateDirectories().Select(job => (job.Name, job.LastWriteTimeUtc));
}
