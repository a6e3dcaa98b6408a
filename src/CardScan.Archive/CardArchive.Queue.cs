using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Photos that any computer of a workshop may read (docs/workshop.md). Only an archive on a server has a queue.</content>
public sealed partial class CardArchive
{
    /// <summary>Copies photos into the queue, all or none.</summary>
    /// <param name="photos">The photos, and how they are to be read.</param>
    /// <param name="copied">Told how many have been copied.</param>
    public Outcome<QueueJob> PutInQueue(PhotosToRead photos, Action<int>? copied = null)
    {
        ArgumentNullException.ThrowIfNull(photos);
        return Queued<QueueJob>(queue => queue.Put(photos, copied));
    }

    /// <summary>Takes the next task of the queue; null where none is free now.</summary>
    /// <param name="worker">Who takes it, for people.</param>
    /// <param name="lease">How long it is theirs without <see cref="RenewWork"/>; after that anybody may take it.</param>
    public Outcome<QueuedWork?> TakeWork(string worker, TimeSpan lease)
    {
        ArgumentNullException.ThrowIfNull(worker);
        return Queued<QueuedWork?>(queue => queue.Take(worker, lease));
    }

    /// <summary>Holds a task for longer; false where somebody else has it by now.</summary>
    /// <param name="claim">The right to it.</param>
    /// <param name="lease">How long, from now.</param>
    public Outcome<bool> RenewWork(WorkClaim claim, TimeSpan lease)
    {
        ArgumentNullException.ThrowIfNull(claim);
        return Queued<bool>(queue => queue.Renew(claim, lease));
    }

    /// <summary>Gives a task back that could not be done here; false where somebody else has it by now.</summary>
    /// <param name="claim">The right to it.</param>
    public Outcome<bool> GiveBackWork(WorkClaim claim)
    {
        ArgumentNullException.ThrowIfNull(claim);
        return Queued<bool>(queue => queue.GiveBack(claim));
    }

    /// <summary>Tells which cards a photo shows, and so ends the task; false where somebody else has it by now.</summary>
    /// <param name="claim">The right to it.</param>
    /// <param name="numbers">The cards' numbers.</param>
    public Outcome<bool> TellCards(WorkClaim claim, ValueList<int> numbers)
    {
        ArgumentNullException.ThrowIfNull(claim);
        return Queued<bool>(queue => queue.TellCards(claim, numbers));
    }

    /// <summary>Ends a task whose photos cannot be read; false where somebody else has it by now.</summary>
    /// <param name="claim">The right to it, with the reasons.</param>
    public Outcome<bool> RefuseWork(WorkClaim claim)
    {
        ArgumentNullException.ThrowIfNull(claim);
        return Queued<bool>(queue => queue.Refuse(claim));
    }

    /// <summary>The jobs in the queue: those that are not done, newest first, then the newest that are; some twenty.</summary>
    public Outcome<ValueList<QueueJob>> QueueJobs() => Queued<ValueList<QueueJob>>(queue => queue.Jobs());

    /// <summary>One job.</summary>
    /// <param name="name">Its name: <c>q3</c>.</param>
    public Outcome<QueueJob> QueueJob(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Queued<QueueJob>(queue => NameResolver.IsId(name, 'q', out long id) && queue.Job(id) is { } job
            ? job
            : Refusal.OfInput(Codes.QueueNoSuch, ("name", name)));
    }

    /// <summary>Takes a job out of the queue. What was read of it stays.</summary>
    /// <param name="name">Its name.</param>
    /// <returns>The job as it was.</returns>
    public Outcome<QueueJob> DropQueueJob(string name)
    {
        Outcome<QueueJob> job = QueueJob(name);
        return job.IsRefused ? job : Queued<QueueJob>(queue =>
        {
            queue.Drop(job.Value.Id);
            return job;
        });
    }

    private Outcome<T> Queued<T>(Func<WorkQueue, Outcome<T>> work) => Queue is { } queue
        ? Guard(() => work(queue))
        : Refusal.OfInput(Codes.QueueNeedsServer, ("archive", Name));

    private WorkQueue? Queue => _database is PostgresDatabase shared ? new(shared, _files.Waiting, _clock) : null;
}
