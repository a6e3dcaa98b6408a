using CardScan.Model;

namespace CardScan.Archive;

/// <summary>The photos that wait, a folder for each job: <c>queue/FOLDER/12.jpg</c>, beside the kept files.</summary>
/// <param name="folder">The folder of the archive's files.</param>
internal sealed class QueueFolder(string folder)
{
    /// <summary>A folder that no job has is being filled, or was left behind by someone who was broken off.</summary>
    private static readonly TimeSpan s_longestFilling = TimeSpan.FromDays(1);

    private readonly string _all = Path.Combine(folder, "queue");

    /// <summary>Where a photo stands.</summary>
    public string PathOf(string job, long position, string name) =>
        Path.Combine(_all, job, FormattableString.Invariant($"{position}{Path.GetExtension(name).ToLowerInvariant()}"));

    /// <summary>Copies photos into a new folder and makes them durable.</summary>
    /// <param name="paths">The photos.</param>
    /// <param name="copied">Told how many have been copied.</param>
    /// <returns>The folder's name, and what each photo is.</returns>
    public (string Job, ValueList<QueuedPhoto> Photos) Fill(ValueList<string> paths, Action<int>? copied)
    {
        string job = $"{Guid.NewGuid():N}";
        DirectoryInfo home = Directory.CreateDirectory(Path.Combine(_all, job));
        try
        {
            List<QueuedPhoto> photos = [];
            foreach (string path in paths)
            {
                string name = Path.GetFileName(path), place = PathOf(job, photos.Count, name);
                using FileStream from = File.OpenRead(path), to = File.Create(place);
                photos.Add(new(place, name, HashedCopy.Run(from, to)!));
                to.Flush(flushToDisk: true);
                copied?.Invoke(photos.Count);
            }

            Durable.FlushFolder(home.FullName);
            Durable.FlushFolder(_all);
            return (job, photos.ToValueList());
        }
        catch
        {
            Discard(job);
            throw;
        }
    }

    /// <summary>Deletes a job's photos if that is possible.</summary>
    public void Discard(string job)
    {
        try
        {
            Directory.Delete(Path.Combine(_all, job), recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Swept later.
        }
    }

    /// <summary>Deletes what nobody waits for any more: whoever should have may have been killed.</summary>
    /// <param name="jobs">The folder of every job, with whether it is done.</param>
    /// <param name="now">The time.</param>
    public void Sweep(IReadOnlyDictionary<string, bool> jobs, DateTimeOffset now)
    {
        if (!Directory.Exists(_all)) return;
        foreach (DirectoryInfo job in new DirectoryInfo(_all).EnumerateDirectories())
        {
            bool isDone = jobs.TryGetValue(job.Name, out bool done) ? done : now.UtcDateTime - job.LastWriteTimeUtc > s_longestFilling;
            if (isDone) Discard(job.Name);
        }
    }
}
