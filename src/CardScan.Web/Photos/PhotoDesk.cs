using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Threading.Channels;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Takes photos from the inbox one after the other: looks at each, then reads its card.</summary>
/// <remarks>
/// While one card is read, the next photo is looked at already. What is answered with <see cref="PhotoState.Kept"/> is in the
/// archive; what is not is still in the inbox, and is taken up again after a restart.
/// </remarks>
internal sealed class PhotoDesk : IAsyncDisposable
{
    /// <summary>Photos that are remembered with what came of them.</summary>
    private const int MostRemembered = 60;

    /// <summary>Photos that may wait before others are asked to come later.</summary>
    private const int MostWaiting = 200;

    private readonly Workshop _shop;
    private readonly Inbox _inbox;
    private readonly PhotoSitting _sitting;
    private readonly Lock _lock = new();
    private readonly Channel<string> _toCheck = Channel.CreateUnbounded<string>();
    private readonly Channel<(string Id, SeenPhoto Photo)> _toRead = Channel.CreateBounded<(string, SeenPhoto)>(2);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _work;
    private ImmutableList<PhotoJob> _jobs = [];

    /// <summary>Opens the inbox and begins with what lies there.</summary>
    public PhotoDesk(Workshop shop, Inbox inbox)
    {
        (_shop, _inbox, _sitting) = (shop, inbox, new(shop.Archive));
        foreach ((string id, string name) in inbox.Open()) TakeUp(id, name, FingerprintOf(inbox.PhotoOf(id)));
        _work = Task.WhenAll(Task.Run(CheckAll), Task.Run(ReadAll));
    }

    /// <summary>Every photo that is remembered, oldest first.</summary>
    public ImmutableList<PhotoJob> Jobs => _jobs;

    /// <summary>True while others are before whatever comes next, and enough of them.</summary>
    public bool IsFull => _toCheck.Reader.Count >= MostWaiting;

    /// <summary>True while no photo is under way.</summary>
    public bool IsIdle => _jobs.TrueForAll(job => job.IsDone);

    /// <summary>Takes a photo that has come whole.</summary>
    /// <param name="delivery">The delivery, finished.</param>
    /// <returns>The photo; the one that is here already where it was sent before.</returns>
    public PhotoJob Take(Delivery delivery) => Add(delivery.Id, delivery.Name, FingerprintOf(_inbox.PhotoOf(delivery.Id)));

    /// <summary>Looks at a small copy of a photo that is still on its way.</summary>
    public Outcome<PhotoRecord> Glance(ReadOnlyMemory<byte> copy, string name) => _sitting.Glance(copy, name);

    /// <summary>Lets the photos of a card go, so that the next one begins it anew. What was kept of them stays in the archive.</summary>
    /// <param name="id">One of its photos.</param>
    public void BeginAnew(string id)
    {
        if (_jobs.Find(job => job.Id == id)?.PlanSha256 is not { } plan) return;
        _sitting.Forget(plan);
        lock (_lock) _jobs = _jobs.RemoveAll(job => job.PlanSha256 == plan && job.State == PhotoState.Kept);
        _shop.Bell.Ring(Topic.Photos);
    }

    /// <summary>Stops after the photo that is worked on; the others wait in the inbox.</summary>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _toCheck.Writer.TryComplete();
        await _work;
        _sitting.Dispose();
        _stop.Dispose();
    }

    /// <summary>
    /// Takes up what an earlier run left; where that ended between keeping a photo and letting it go, it is not read twice.
    /// </summary>
    private void TakeUp(string id, string name, string sha256)
    {
        if (_shop.Archive.ReadingOfPhoto(sha256) is { } reading)
        {
            _inbox.Drop(id);
            _jobs = _jobs.Add(new(id, name, PhotoState.Kept) { Sha256 = sha256, ReadingName = reading });
            return;
        }

        Add(id, name, sha256);
    }

    private PhotoJob Add(string id, string name, string sha256)
    {
        PhotoJob job = new(id, name, PhotoState.Waiting) { Sha256 = sha256 };
        lock (_lock)
        {
            PhotoJob? here = _jobs.Find(each => each.Sha256 == sha256);
            if (here is { State: not PhotoState.Refused })
            {
                _inbox.Drop(id);
                return here;
            }

            // Sent again after it was refused: what lay here for a later try is this.
            if (here is not null) _inbox.Drop(here.Id);
            _jobs = (here is null ? _jobs : _jobs.Remove(here)).Add(job);
        }

        _toCheck.Writer.TryWrite(id); // fails where the server stops; then it is taken up at the next start
        _shop.Bell.Ring(Topic.Photos);
        return job;
    }

    private async Task CheckAll()
    {
        try
        {
            await foreach (string id in _toCheck.Reader.ReadAllAsync(_stop.Token))
            {
                if (Set(id, job => job with { State = PhotoState.Checking }) is not { } job) continue;
                if (Guarded(id, () => Check(job)) is { } seen) await _toRead.Writer.WriteAsync((id, seen), _stop.Token);
            }
        }
        catch (OperationCanceledException)
        {
            // The server stops.
        }
        finally
        {
            _toRead.Writer.TryComplete();
        }
    }

    private async Task ReadAll()
    {
        await foreach ((string id, SeenPhoto photo) in _toRead.Reader.ReadAllAsync(CancellationToken.None))
        {
            // It may have gone into the reading of a photo before it.
            if (_jobs.Find(job => job.Id == id) is { State: PhotoState.Reading }) Guarded(id, () => Read(id, photo));
            Draw();
        }
    }

    /// <summary>Draws what is left as long as no photo waits; without it the readings stand all the same.</summary>
    private void Draw()
    {
        try
        {
            _sitting.Draw(() => !IsIdle || _stop.IsCancellationRequested);
        }
#pragma warning disable CA1031 // whatever it is, the photos go on
        catch (Exception)
#pragma warning restore CA1031
        {
            // They are drawn with the card's next reading.
        }
    }

    /// <summary>Looks at a photo; null where it cannot be used.</summary>
    private SeenPhoto? Check(PhotoJob job)
    {
        if (PhotoSitting.Reduce(_inbox.PhotoOf(job.Id)) is { } picture) Set(job.Id, found => found with { Picture = picture });
        SeenPhoto seen = _sitting.See(_inbox.PhotoOf(job.Id), job.Name);
        if (seen.Refusal is { } refusal)
        {
            Refuse(job.Id, refusal, seen.CardNumber, seen.Corners);
            return null;
        }

        Warning? change = PhotoAdvice.Of(seen.Record!);
        Set(job.Id, found => found with
        {
            State = PhotoState.Reading, CardNumber = seen.CardNumber, PlanSha256 = seen.PlanSha256, Change = change, Corners = seen.Corners,
        });
        return seen;
    }

    private SeenPhoto? Read(string id, SeenPhoto photo)
    {
        Outcome<ReadResult> read = _sitting.Read(photo);
        if ((read.Refusal ?? read.Value.Kept!.Refusal) is { } refusal)
        {
            Refuse(id, refusal, photo.CardNumber);
            return null;
        }

        string reading = read.Value.Kept!.Value.Name;
        HashSet<string> used = [.. read.Value.Reading.Photos.Select(used => used.Sha256)];
        foreach (PhotoJob each in _jobs.Where(job => job.PlanSha256 == photo.PlanSha256 && used.Contains(job.Sha256)))
        {
            Set(each.Id, job => job with { State = PhotoState.Kept, ReadingName = reading });
            _inbox.Drop(each.Id);
        }

        _shop.Bell.Ring(Topic.Archive);
        return photo;
    }

    /// <summary>A photo at which the program fails is refused by itself; those after it are read.</summary>
    private SeenPhoto? Guarded(string id, Func<SeenPhoto?> work)
    {
        try
        {
            return work();
        }
#pragma warning disable CA1031 // whatever it is, the other photos go on
        catch (Exception e)
#pragma warning restore CA1031
        {
            Refuse(id, Answer.Fault(e), null);
            return null;
        }
    }

    private void Refuse(string id, Refusal refusal, int? card, ValueList<CardCorner>? corners = null)
    {
        // What a full disk or a damaged archive keeps out is still here, and is taken up after a restart.
        if (refusal.Kind != RefusalKind.UnusablePlace) _inbox.Drop(id);
        Set(id, job => job with
        {
            State = PhotoState.Refused, Refusal = refusal, CardNumber = card, Corners = corners ?? job.Corners,
        });
    }

    private PhotoJob? Set(string id, Func<PhotoJob, PhotoJob> change)
    {
        PhotoJob? changed = null;
        lock (_lock)
        {
            if (_jobs.Find(job => job.Id == id) is { } job) _jobs = _jobs.Replace(job, changed = change(job));
            while (_jobs.Count > MostRemembered && _jobs.FindIndex(each => each.IsDone) is >= 0 and int done) _jobs = _jobs.RemoveAt(done);
        }

        _shop.Bell.Ring(Topic.Photos);
        return changed;
    }

    private static string FingerprintOf(string path)
    {
        using FileStream file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }
}
