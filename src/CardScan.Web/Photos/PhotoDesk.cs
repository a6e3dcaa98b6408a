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

    /// <summary>Photos of one member that may wait, so that others come to their turn.</summary>
    private const int MostOfOne = 30;

    private readonly Workshop _shop;
    private readonly Inbox _inbox;
    private readonly PhotoSitting _sitting;
    private readonly Lock _lock = new();
    private readonly Channel<string> _toCheck = Channel.CreateUnbounded<string>();
    private readonly Channel<(string Id, SeenPhoto Photo)> _toRead = Channel.CreateBounded<(string, SeenPhoto)>(2);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _work;
    private readonly HashSet<string> _takenUp;
    private ImmutableList<PhotoJob> _jobs = [];

    /// <summary>Opens the inbox and begins with what lies there.</summary>
    public PhotoDesk(Workshop shop, Inbox inbox)
    {
        (_shop, _inbox, _sitting) = (shop, inbox, new(shop.Archive));
        (string Id, string Name, Actor? By)[] left = [.. inbox.Open()];
        _takenUp = [.. left.Select(photo => photo.Id)];
        foreach ((string id, string name, Actor? by) in left) Add(id, name, FingerprintOf(inbox.PhotoOf(id)), by);
        _work = Task.WhenAll(Task.Run(CheckAll), Task.Run(ReadAll));
    }

    /// <summary>The photos that a guest sent, oldest first; on the page of one person everything.</summary>
    public IEnumerable<PhotoJob> JobsOf(Guest guest) =>
        guest.Member is { } member ? _jobs.Where(job => job.By?.MemberId == member.Id) : _jobs;

    /// <summary>Why a guest is to send no more photos now: enough are before theirs, or are their own. Null where they may.</summary>
    public Refusal? FullFor(Guest guest)
    {
        if (_toCheck.Reader.Count >= MostWaiting) return Refusal.OfPlace(Codes.InboxFull);
        return guest.Member is not null && JobsOf(guest).Count(job => !job.IsDone) >= MostOfOne
            ? Refusal.OfPlace(Codes.InboxYoursFull)
            : null;
    }

    /// <summary>True while no photo is under way.</summary>
    public bool IsIdle => _jobs.TrueForAll(job => job.IsDone);

    /// <summary>Takes a photo that has come whole.</summary>
    /// <param name="delivery">The delivery, finished.</param>
    /// <returns>The photo; the one that is here already where it was sent before.</returns>
    public PhotoJob Take(Delivery delivery) => Add(
        delivery.Id, delivery.Name, FingerprintOf(_inbox.PhotoOf(delivery.Id)), delivery.By);

    /// <summary>Looks at a small copy of a photo that is still on its way.</summary>
    public Outcome<PhotoRecord> Glance(ReadOnlyMemory<byte> copy, string name) => _sitting.Glance(copy, name);

    /// <summary>Lets the photos of a card go, so that the next one begins it anew. What was kept of them stays in the archive.</summary>
    /// <param name="id">One of its photos.</param>
    /// <param name="card">Its number.</param>
    public void BeginAnew(string id, int card)
    {
        if (_jobs.Find(job => job.Id == id && job.CardNumber == card)?.PlanSha256 is not { } plan) return;
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

    private PhotoJob Add(string id, string name, string sha256, Actor? by)
    {
        PhotoJob job = new(id, name, PhotoState.Waiting) { Sha256 = sha256, By = by };
        lock (_lock)
        {
            PhotoJob? here = _jobs.Find(each => each.Sha256 == sha256 && each.By?.MemberId == by?.MemberId);
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
                if (Set(id, null, job => job with { State = PhotoState.Checking }) is not { } job) continue;
                foreach (SeenPhoto seen in Guarded(id, null, () => Check(job)) ?? [])
                    await _toRead.Writer.WriteAsync((id, seen), _stop.Token);
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
            if (_jobs.Exists(job => job.Id == id && job.CardNumber == photo.CardNumber && job.State == PhotoState.Reading))
                Guarded(id, photo.CardNumber, () => Read(id, photo, By(id)));
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

    /// <summary>Looks at a photo: from here on it stands in the list once for each card that it shows.</summary>
    /// <returns>The cards that are to be read.</returns>
    private SeenPhoto[] Check(PhotoJob job)
    {
        if (PhotoSitting.Reduce(_inbox.PhotoOf(job.Id)) is { } picture) job = Set(job.Id, null, found => found with { Picture = picture })!;
        ValueList<SeenPhoto> seen = _sitting.See(_inbox.PhotoOf(job.Id), job.Name);
        PhotoJob[] cards = [.. seen.Select(card => Judged(job, card))];
        lock (_lock) _jobs = _jobs.InsertRange(_jobs.IndexOf(job), cards).Remove(job);
        _shop.Bell.Ring(Topic.Photos);
        DropWhereDone(job.Id);
        return [.. seen.Zip(cards).Where(card => card.Second.State == PhotoState.Reading).Select(card => card.First)];
    }

    private PhotoJob Judged(PhotoJob job, SeenPhoto seen)
    {
        PhotoJob judged = job with { CardNumber = seen.CardNumber, PlanSha256 = seen.PlanSha256, Corners = seen.Corners };
        if (!seen.TellsOfCard) return judged with { State = PhotoState.Refused, Refusal = seen.Refusal };
        // An earlier run may have ended between keeping a reading and letting its photo go: nothing is read twice.
        return _takenUp.Contains(job.Id) && _shop.Archive.ReadingOfPhoto(job.Sha256, seen.PlanSha256!) is { } reading
            ? judged with { State = PhotoState.Kept, ReadingName = reading }
            : judged with { State = PhotoState.Reading, Change = seen.Record is { } record ? PhotoAdvice.Of(record) : null };
    }

    private SeenPhoto? Read(string id, SeenPhoto photo, Actor? by)
    {
        Outcome<ReadResult> read = _sitting.Read(photo, by);
        if ((read.Refusal ?? read.Value.Kept!.Refusal) is { } refusal)
        {
            Refuse(id, photo.CardNumber, refusal);
            return null;
        }

        string reading = read.Value.Kept!.Value.Name;
        HashSet<string> used = [.. read.Value.Reading.Photos.Select(used => used.Sha256)];
        foreach (PhotoJob each in _jobs.Where(job => job.PlanSha256 == photo.PlanSha256 && used.Contains(job.Sha256)))
        {
            Set(each.Id, each.CardNumber, job => job with { State = PhotoState.Kept, ReadingName = reading });
            DropWhereDone(each.Id);
        }

        // It helped the others.
        if (photo.Refusal is { } unusable) Refuse(id, photo.CardNumber, unusable);
        _shop.Bell.Ring(Topic.Archive);
        return photo;
    }

    private Actor? By(string id) => _jobs.Find(job => job.Id == id)?.By;

    /// <summary>A photo at which the program fails is refused by itself; those after it are read.</summary>
    private TResult? Guarded<TResult>(string id, int? card, Func<TResult?> work) where TResult : class
    {
        try
        {
            return work();
        }
#pragma warning disable CA1031 // whatever it is, the other photos go on
        catch (Exception e)
#pragma warning restore CA1031
        {
            Refuse(id, card, Answer.Fault(e));
            return null;
        }
    }

    private void Refuse(string id, int? card, Refusal refusal)
    {
        Set(id, card, job => job with { State = PhotoState.Refused, Refusal = refusal });
        DropWhereDone(id);
    }

    /// <summary>
    /// Lets a photo's file go once each of its cards is done. What a full disk or a damaged archive keeps out is still here, and is
    /// taken up after a restart.
    /// </summary>
    private void DropWhereDone(string id)
    {
        if (_jobs.TrueForAll(job => job.Id != id || (job.IsDone && job.Refusal?.Kind != RefusalKind.UnusablePlace))) _inbox.Drop(id);
    }

    /// <summary>Changes what is known of a photo, with one of its cards.</summary>
    private PhotoJob? Set(string id, int? card, Func<PhotoJob, PhotoJob> change)
    {
        PhotoJob? changed = null;
        lock (_lock)
        {
            if (_jobs.Find(job => job.Id == id && job.CardNumber == card) is { } job) _jobs = _jobs.Replace(job, changed = change(job));
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
