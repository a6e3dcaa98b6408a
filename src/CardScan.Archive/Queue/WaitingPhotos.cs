using CardScan.Model;

namespace CardScan.Archive;

/// <summary>The photos that wait to be read, beside the kept files: <c>queue/JOB/12.jpg</c>.</summary>
internal abstract class WaitingPhotos
{
    /// <summary>What they stand under.</summary>
    protected const string QueuePart = "queue";

    /// <summary>A place that no job has is being filled, or was left behind by someone who was broken off.</summary>
    private static readonly TimeSpan s_longestFilling = TimeSpan.FromDays(1);

    /// <summary>Where a photo stands.</summary>
    public abstract string PathOf(string job, long position, string name);

    /// <summary>Copies a photo; it lasts once <see cref="Settle"/> has run.</summary>
    /// <returns>The SHA-256 of what was copied.</returns>
    protected abstract string Copy(string from, string to);

    /// <summary>Makes the photos of a job durable.</summary>
    protected virtual void Settle(string job)
    {
    }

    /// <summary>Deletes a job's photos if that is possible.</summary>
    public abstract void Discard(string job);

    /// <summary>The jobs that have photos, each with the time of its last change.</summary>
    protected abstract IEnumerable<(string Job, DateTime ChangedUtc)> Standing();

    /// <summary>Copies the photos of a new job and makes them durable.</summary>
    /// <param name="paths">The photos.</param>
    /// <param name="copied">Told how many have been copied.</param>
    /// <returns>What they stand under, and what each photo is.</returns>
    public (string Job, ValueList<QueuedPhoto> Photos) Fill(ValueList<string> paths, Action<int>? copied)
    {
        string job = $"{Guid.NewGuid():N}";
        try
        {
            List<QueuedPhoto> photos = [];
            foreach (string path in paths)
            {
                string name = Path.GetFileName(path), place = PathOf(job, photos.Count, name);
                photos.Add(new(place, name, Copy(path, place)));
                copied?.Invoke(photos.Count);
            }

            Settle(job);
            return (job, photos.ToValueList());
        }
        catch
        {
            Discard(job);
            throw;
        }
    }

    /// <summary>Deletes what nobody waits for any more: whoever should have may have been killed.</summary>
    /// <param name="jobs">What every job stands under, with whether it is done.</param>
    /// <param name="now">The time.</param>
    public void Sweep(IReadOnlyDictionary<string, bool> jobs, DateTimeOffset now)
    {
        foreach ((string job, DateTime changed) in Standing())
        {
            bool isDone = jobs.TryGetValue(job, out bool done) ? done : now.UtcDateTime - changed > s_longestFilling;
            if (isDone) Discard(job);
        }
    }

    /// <summary>A photo's name among those of its job.</summary>
    protected static string NameOf(long position, string name) =>
        FormattableString.Invariant($"{position}{Path.GetExtension(name).ToLowerInvariant()}");
}
