using System.Text;
using CardScan.Language;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>How a computer works on a workshop's queue.</summary>
/// <param name="Place">The workshop's archive.</param>
/// <param name="Name">Who works, for people.</param>
public sealed record WorkRequest(ArchivePlace Place, string Name)
{
    /// <summary>How long others wait for a worker of which nothing is heard.</summary>
    public TimeSpan Lease { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>Tasks that are done at once; null for as many as processors and memory allow.</summary>
    public int? AtOnce { get; init; }

    /// <summary>True to end when the queue is empty; false waits for more.</summary>
    public bool EndsWhenEmpty { get; init; }
}

/// <summary>Something that a worker has done.</summary>
/// <param name="Job">Name of the job; null where it is of none: the archive could not be used, and is tried again.</param>
/// <param name="Photos">The photos' names.</param>
public sealed record WorkDone(string? Job, ValueList<string> Photos)
{
    /// <summary>The reading that was kept; null where none was.</summary>
    public Reading? Reading { get; init; }

    /// <summary>Its name.</summary>
    public string? Name { get; init; }

    /// <summary>What could not be done, one by one.</summary>
    public ValueList<RefusedPhoto> Refused { get; init; } = [];
}

/// <summary>Reads what waits in a workshop's queue, on this computer.</summary>
public sealed class QueueWorker
{
    /// <summary>How soon a worker with nothing to do looks again: new photos wait as long at most.</summary>
    private static readonly TimeSpan s_idle = TimeSpan.FromSeconds(1);

    /// <summary>How soon one tries again whose archive could not be used.</summary>
    private static readonly TimeSpan s_afterTrouble = TimeSpan.FromSeconds(10);

    private readonly WorkRequest _request;
    private readonly Action<WorkDone> _tell;
    private readonly CancellationTokenSource _stop;
    private Refusal? _trouble;

    private QueueWorker(WorkRequest request, Action<WorkDone> tell, CancellationToken stop) =>
        (_request, _tell, _stop) = (request, tell, CancellationTokenSource.CreateLinkedTokenSource(stop));

    /// <summary>Works until it is stopped, or the queue is empty.</summary>
    /// <param name="request">How.</param>
    /// <param name="tell">Told of everything that is done; by several threads, one at a time.</param>
    /// <param name="stop">Ends it as soon as what was begun is done.</param>
    /// <returns>Why it could not go on, where it was to end when the queue is empty; else null.</returns>
    public static Refusal? Run(WorkRequest request, Action<WorkDone> tell, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(tell);
        // Whoever is refused at once has mistyped something.
        if (request.Place.Use(archive => archive.QueueJobs(), mayMake: true).Refusal is { } refusal) return refusal;
        Lock voice = new();
        QueueWorker worker = new(request, Told, stop);
        Task[] hands = [.. Enumerable.Range(0, request.AtOnce ?? DecodeSlots.Most).Select(_ =>
            Task.Factory.StartNew(worker.Work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default))];
        Task.WaitAll(hands, CancellationToken.None);
        worker._stop.Dispose();
        return worker._trouble;

        void Told(WorkDone done)
        {
            lock (voice) tell(done);
        }
    }

    private void Work()
    {
        while (!_stop.IsCancellationRequested)
        {
            Outcome<QueuedWork?> taken = _request.Place.Use(archive => archive.TakeWork(_request.Name, _request.Lease));
            if (taken.IsRefused) Trouble(taken.Refusal!);
            else if (taken.Value is { } work) Do(work);
            else if (_request.EndsWhenEmpty && IsEmpty()) return;
            else _stop.Token.WaitHandle.WaitOne(s_idle);
        }
    }

    /// <summary>Others may still die over what they have taken; then it is to be done here.</summary>
    private bool IsEmpty() => _request.Place.Use(archive => archive.QueueJobs()) is { IsRefused: false } jobs
        && jobs.Value.All(job => job.Done is not null);

    private void Trouble(Refusal refusal)
    {
        if (_request.EndsWhenEmpty)
        {
            _trouble = refusal;
            _stop.Cancel();
            return;
        }

        _tell(new(null, []) { Refused = [new(_request.Place.Name, refusal)] });
        _stop.Token.WaitHandle.WaitOne(s_afterTrouble);
    }

    private void Do(QueuedWork work)
    {
        TimeSpan beat = _request.Lease / 3;
        using Timer heart = new(_ => _request.Place.Use(archive => archive.RenewWork(work.Claim, _request.Lease)), null, beat, beat);
        Outcome<WorkDone> done = work.IsLook ? Look(work) : Read(work);
        if (!done.IsRefused) _tell(done.Value);
        else if (done.Refusal!.Code == Codes.QueueTakenOver) _tell(Done(work) with { Refused = [new(work.Job, done.Refusal!)] });
        else GiveBack(work, done.Refusal!);
    }

    private void GiveBack(QueuedWork work, Refusal refusal)
    {
        _request.Place.Use(archive => archive.GiveBackWork(work.Claim));
        Trouble(refusal);
    }

    private Outcome<WorkDone> Look(QueuedWork work)
    {
        QueuedPhoto photo = work.Photos[0];
        Outcome<byte[]> bytes = BytesOf(photo);
        Outcome<ValueList<int>> numbers = bytes.IsRefused ? bytes.Refusal! : NumbersIn(new(photo.Name, bytes.Value));
        return numbers.IsRefused
            ? Refuse(work, numbers.Refusal!)
            : Ended(_request.Place.Use(archive => archive.TellCards(work.Claim, numbers.Value)), Done(work));
    }

    private static Outcome<ValueList<int>> NumbersIn(PhotoFile photo)
    {
        using IDisposable place = DecodeSlots.Enter();
        Outcome<OpenPhoto> opened = CardReader.Open(photo);
        if (opened.IsRefused) return opened.Refusal!;
        using OpenPhoto open = opened.Value;
        return open.CardNumbers;
    }

    private Outcome<WorkDone> Read(QueuedWork work)
    {
        try
        {
            DirectoryInfo folder = Directory.CreateTempSubdirectory("cardscan-");
            try
            {
                Outcome<string[]> photos = Fetch(work, folder);
                return photos.IsRefused ? Refuse(work, photos.Refusal!) : Read(work, photos.Value, folder);
            }
            finally
            {
                folder.Delete(recursive: true);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return DiskFault.OfTemporary(e);
        }
    }

    /// <summary>The photos under the names that they came with: those stand in the reading.</summary>
    private Outcome<string[]> Fetch(QueuedWork work, DirectoryInfo folder)
    {
        List<string> paths = [];
        foreach ((int i, QueuedPhoto photo) in work.Photos.Index())
        {
            Outcome<byte[]> bytes = BytesOf(photo);
            if (bytes.IsRefused) return bytes.Refusal!;
            // Two photos may have one name, and a name may have signs in it that only another system allows.
            string home = folder.CreateSubdirectory($"{i}").FullName;
            paths.Add(Path.Combine(home, string.Join('_', Path.GetFileName(photo.Name).Split(Path.GetInvalidFileNameChars()))));
            File.WriteAllBytes(paths[^1], bytes.Value);
        }

        return paths.ToArray();
    }

    private Outcome<byte[]> BytesOf(QueuedPhoto photo)
    {
        Outcome<byte[]?> read = _request.Place.FileBytes(photo.Path);
        if (read.IsRefused) return read.Refusal!;
        return read.Value is { } bytes && CardJson.Sha256(bytes) == photo.Sha256
            ? bytes
            : Refusal.OfInput(Codes.QueuePhotoGone, ("photo", photo.Name), ("path", photo.Path));
    }

    private Outcome<WorkDone> Read(QueuedWork work, string[] photos, DirectoryInfo folder)
    {
        Outcome<ReadCardsResult> read = ReadCards.Run(RequestOf(work, photos, folder));
        if (read.IsRefused) return Refuse(work, read.Refusal!);
        if (read.Value.Cards is not [{ Kept: { } kept } card]) return Refuse(work, read.Value.Refused);
        return kept.IsRefused
            ? kept.Refusal!
            : Done(work) with { Reading = card.Reading, Name = kept.Value.Name, Refused = card.Refused };
    }

    private ReadRequest RequestOf(QueuedWork work, string[] photos, DirectoryInfo folder)
    {
        QueuedRequest asked = QueuedRequest.Of(work.Request);
        string[] plans = [.. asked.Plans.Select((_, i) => Path.Combine(folder.FullName, $"plan-{i}.json"))];
        foreach ((string path, string json) in plans.Zip(asked.Plans)) File.WriteAllText(path, json, new UTF8Encoding(false));
        return new()
        {
            Photos = [.. photos], Plans = [.. plans], Card = work.Card ?? asked.Card, Archive = _request.Place, IsAlone = asked.IsAlone,
            HasPlainTones = asked.HasPlainTones, Light = asked.Light, Scoring = asked.Scoring, Claim = work.Claim,
        };
    }

    private Outcome<WorkDone> Refuse(QueuedWork work, Refusal refusal) =>
        Refuse(work, [new(string.Join(", ", Done(work).Photos), refusal)]);

    /// <summary>Tells why photos cannot be read; what is this computer's fault is left to another.</summary>
    private Outcome<WorkDone> Refuse(QueuedWork work, ValueList<RefusedPhoto> refused)
    {
        if (refused.FirstOrDefault(each => each.Refusal.Kind == RefusalKind.UnusablePlace) is { } here) return here.Refusal;
        WorkClaim claim = work.Claim with { Refusals = ReadCard.Told(refused) };
        return Ended(_request.Place.Use(archive => archive.RefuseWork(claim)), Done(work) with { Refused = refused });
    }

    private static Outcome<WorkDone> Ended(Outcome<bool> isTheirs, WorkDone done) =>
        isTheirs.IsRefused ? isTheirs.Refusal! : isTheirs.Value ? done : Refusal.OfPlace(Codes.QueueTakenOver);

    private static WorkDone Done(QueuedWork work) => new(work.Job, work.Photos.Select(photo => photo.Name).ToValueList());
}
