using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The queue of photos that are to be read. First every photo of a job is looked at, then each card that was found is read with all of
/// its photos. Whoever takes a task holds a lease on it; a lease that is not renewed ends, and another worker takes the task.
/// </summary>
/// <remarks>The server's clock counts, not those of the computers.</remarks>
internal sealed class WorkQueue(PostgresDatabase database, WaitingPhotos waiting, TimeProvider clock)
{
    /// <summary>Whatever ended the worker as often as this is taken to be the photo's doing.</summary>
    private const int MostTries = 3;

    private const int MostListed = 20;

    /// <summary>Puts a job in: all of it or nothing.</summary>
    public QueueJob Put(PhotosToRead what, Action<int>? copied)
    {
        (string name, ValueList<QueuedPhoto> photos) = waiting.Fill(what.Paths, copied);
        try
        {
            return Job(database.Apart(() => Put(what, name, photos)))!;
        }
        catch
        {
            waiting.Discard(name);
            throw;
        }
    }

    private long Put(PhotosToRead what, string name, ValueList<QueuedPhoto> photos)
    {
        long job = database.Count(
            """
            INSERT INTO queue_job (folder, request, put_by, put_utc, is_sorted) VALUES (@folder, @request, @by, @now, @sorted)
            RETURNING id
            """,
            ("folder", name), ("request", what.Request.ToArray()), ("by", what.PutBy), ("now", Database.Text(clock.GetUtcNow())),
            ("sorted", what.IsOfOneCard));
        using RowWriter rows = new(database, "queue_photo", "job_id", "position", "file_name", "sha256");
        foreach ((int position, QueuedPhoto photo) in photos.Index()) rows.Put(job, (long)position, photo.Name, photo.Sha256);
        if (what.IsOfOneCard) AddTasks(job, [(null, null)]);
        else AddTasks(job, photos.Index().Select(photo => ((long?)photo.Index, (long?)null)));
        return job;
    }

    private void AddTasks(long job, IEnumerable<(long? Position, long? Number)> tasks)
    {
        using RowWriter rows = new(database, "queue_task", "job_id", "position", "number", "state", "tries");
        foreach ((long? position, long? number) in tasks) rows.Put(job, position, number, "waiting", 0L);
    }

    /// <summary>Takes the next task; null where none is free.</summary>
    /// <param name="worker">Who takes it, for people.</param>
    /// <param name="lease">How long it is held without being renewed.</param>
    public QueuedWork? Take(string worker, TimeSpan lease)
    {
        while (true)
        {
            Advance();
            string key = $"{Guid.NewGuid():N}";
            (long Id, long Tries, string? Before)[] taken = [.. database.Query(
                """
                WITH next AS (
                    SELECT id, worker FROM queue_task
                    WHERE state = 'waiting' OR state = 'taken' AND leased_until < clock_timestamp()
                    ORDER BY job_id, id LIMIT 1 FOR UPDATE SKIP LOCKED)
                UPDATE queue_task SET state = 'taken', tries = tries + 1, lease = @lease, worker = @worker,
                    leased_until = clock_timestamp() + @seconds * INTERVAL '1 second'
                FROM next WHERE queue_task.id = next.id
                RETURNING queue_task.id AS id, queue_task.tries AS tries, next.worker AS before
                """,
                row => (row.Long("id"), row.Long("tries"), row.TextOrNull("before")),
                ("lease", key), ("worker", worker), ("seconds", lease.TotalSeconds))];
            if (taken is not [var (id, tries, before)]) return null;
            QueuedWork work = Work(new(id, key));
            if (tries <= MostTries) return work;
            Refusal refusal = Refusal.OfPhoto(Codes.QueuePoisoned, ("tries", MostTries), ("worker", before ?? worker));
            string photos = string.Join(", ", work.Photos.Select(photo => photo.Name));
            Refuse(work.Claim with { Refusals = [new(photos, refusal.Code, $"{refusal}")] });
        }
    }

    private QueuedWork Work(WorkClaim claim)
    {
        (long job, string name, byte[] request, long? position, int? number) = database.Single(
            """
            SELECT job.id, job.folder, job.request, task.position, task.number
            FROM queue_task AS task JOIN queue_job AS job ON job.id = task.job_id WHERE task.id = @id
            """,
            row => (row.Long("id"), row.Text("folder"), row.Bytes("request"), row.LongOrNull("position"), row.IntOrNull("number")),
            ("id", claim.TaskId));
        List<QueuedPhoto> photos = database.Query(
            """
            SELECT position, file_name, sha256 FROM queue_photo AS photo
            WHERE job_id = @job AND (CAST(@position AS BIGINT) IS NULL OR position = @position)
                AND (CAST(@number AS BIGINT) IS NULL OR EXISTS (SELECT 1 FROM queue_shown AS shown
                    WHERE shown.job_id = @job AND shown.number = @number AND shown.position = photo.position))
            ORDER BY position
            """,
            row => Photo(row.Long("position"), row.Text("file_name"), row.Text("sha256")),
            ("job", job), ("position", position), ("number", (long?)number));
        return new(claim, QueueJob.NameOf(job))
        {
            IsLook = position is not null, Card = number, Request = request, Photos = photos.ToValueList(),
        };

        QueuedPhoto Photo(long place, string file, string sha256) => new(waiting.PathOf(name, place, file), file, sha256);
    }

    /// <summary>Holds a task for longer.</summary>
    /// <returns>False where it is lost.</returns>
    public bool Renew(WorkClaim claim, TimeSpan lease) => Has(
        "UPDATE queue_task SET leased_until = clock_timestamp() + @seconds * INTERVAL '1 second'", claim, ("seconds", lease.TotalSeconds));

    /// <summary>Gives a task back as if it had not been taken: what kept it from being done is not the photo's doing.</summary>
    public bool GiveBack(WorkClaim claim) => Has("UPDATE queue_task SET state = 'waiting', tries = tries - 1, lease = NULL", claim);

    /// <summary>Tells which cards a photo shows.</summary>
    public bool TellCards(WorkClaim claim, ValueList<int> numbers) => database.Apart(() =>
    {
        if (!Has("UPDATE queue_task SET state = 'done'", claim)) return false;
        foreach (int number in numbers.Distinct())
        {
            database.Execute(
                "INSERT INTO queue_shown (job_id, position, number) SELECT job_id, position, @number FROM queue_task WHERE id = @id",
                ("number", (long)number), ("id", claim.TaskId));
        }

        return true;
    });

    /// <summary>Ends a task whose photos cannot be read, for the reasons that the claim has.</summary>
    public bool Refuse(WorkClaim claim) => database.Apart(() =>
    {
        if (!Has("UPDATE queue_task SET state = 'refused'", claim)) return false;
        Tell(claim);
        return true;
    });

    /// <summary>Ends a task whose reading is kept. Inside the transaction that keeps it, so that it is kept once.</summary>
    /// <returns>False where another worker has the task.</returns>
    public bool Finish(WorkClaim claim, long reading)
    {
        if (!Has("UPDATE queue_task SET state = 'done', reading_id = @reading", claim, ("reading", reading))) return false;
        Tell(claim);
        return true;
    }

    private void Tell(WorkClaim claim)
    {
        foreach (QueueRefusal refusal in claim.Refusals)
        {
            database.Execute(
                """
                INSERT INTO queue_refusal (job_id, photos, code, message)
                SELECT job_id, @photos, @code, @message FROM queue_task WHERE id = @id
                """,
                ("photos", refusal.Photos), ("code", refusal.Code), ("message", refusal.Message), ("id", claim.TaskId));
        }
    }

    private bool Has(string update, WorkClaim claim, params ReadOnlySpan<(string Name, object? Value)> values) => database.Number(
        $"{update} WHERE id = @id AND lease = @lease AND state = 'taken' RETURNING id",
        [("id", claim.TaskId), ("lease", claim.Lease), .. values]) is not null;

    /// <summary>Jobs that have no open task go on: to the cards that their photos show, and then to their end.</summary>
    private void Advance()
    {
        List<(long Id, string Folder)> idle = database.Query(
            """
            SELECT id, folder FROM queue_job WHERE done_utc IS NULL AND NOT EXISTS (
                SELECT 1 FROM queue_task AS task WHERE task.job_id = queue_job.id AND task.state IN ('waiting', 'taken'))
            """, row => (row.Long("id"), row.Text("folder")));
        foreach ((long id, string name) in idle)
            if (database.Apart(() => Advance(id))) waiting.Discard(name);
        if (idle.Count > 0) waiting.Sweep(Folders(), clock.GetUtcNow());
    }

    /// <summary>True where nothing is left to do.</summary>
    private bool Advance(long job)
    {
        // Several workers may see it at once; the second finds it done.
        long? isSorted = database.Number(
            "SELECT is_sorted FROM queue_job WHERE id = @job AND done_utc IS NULL FOR UPDATE SKIP LOCKED", ("job", job));
        if (isSorted is null) return false;
        List<long> numbers = isSorted == 1 ? [] : database.Query(
            "SELECT number FROM queue_shown WHERE job_id = @job GROUP BY number ORDER BY min(position), number", row => row.Long("number"),
            ("job", job));
        // Another worker may have gone on with it since it was seen to be idle.
        bool isOpen = database.Count(
            "SELECT count(*) FROM queue_task WHERE job_id = @job AND state IN ('waiting', 'taken')", ("job", job)) > 0;
        if (isOpen) return false;
        AddTasks(job, numbers.Select(number => ((long?)null, (long?)number)));
        database.Execute(
            "UPDATE queue_job SET is_sorted = 1, done_utc = @done WHERE id = @job",
            ("done", numbers.Count == 0 ? Database.Text(clock.GetUtcNow()) : null), ("job", job));
        return numbers.Count == 0;
    }

    private Dictionary<string, bool> Folders() => database.Query(
        "SELECT folder, done_utc IS NOT NULL AS is_done FROM queue_job", row => (Folder: row.Text("folder"), IsDone: row.Flag("is_done")))
        .ToDictionary(job => job.Folder, job => job.IsDone);

    /// <summary>The jobs, newest first, those that are done after the others.</summary>
    public ValueList<QueueJob> Jobs() => database.Query(
        "SELECT id FROM queue_job ORDER BY done_utc IS NOT NULL, id DESC LIMIT @most", row => row.Long("id"), ("most", (long)MostListed))
        .Select(Job).OfType<QueueJob>().ToValueList();

    /// <summary>The job with an id; null where there is none.</summary>
    public QueueJob? Job(long id)
    {
        QueueJob[] found = [.. database.Query(
            """
            SELECT put_by, put_utc, done_utc,
                (SELECT count(*) FROM queue_photo WHERE job_id = @id) AS photos,
                (SELECT count(*) FROM queue_task WHERE job_id = @id AND position IS NOT NULL AND state IN ('waiting', 'taken')) AS unseen,
                (SELECT count(*) FROM queue_task WHERE job_id = @id AND position IS NULL) AS cards,
                (SELECT count(*) FROM queue_task WHERE job_id = @id AND position IS NULL AND state IN ('waiting', 'taken')) AS unread
            FROM queue_job WHERE id = @id
            """,
            row => new QueueJob(id)
            {
                PutBy = row.Text("put_by"), Put = Database.Time(row.Text("put_utc")),
                Done = row.TextOrNull("done_utc") is { } done ? Database.Time(done) : null,
                Photos = row.Int("photos"), Looked = row.Int("photos") - row.Int("unseen"),
                Cards = row.Int("cards"), CardsDone = row.Int("cards") - row.Int("unread"),
                Refusals = [], Readings = [], Workers = [],
            }, ("id", id))];
        return found is not [var job] ? null : job with
        {
            Refusals = database.Query(
                "SELECT photos, code, message FROM queue_refusal WHERE job_id = @id ORDER BY id",
                row => new QueueRefusal(row.Text("photos"), row.Text("code"), row.Text("message")), ("id", id)).ToValueList(),
            Readings = database.Query(
                "SELECT DISTINCT reading_id FROM queue_task WHERE job_id = @id AND reading_id IS NOT NULL ORDER BY reading_id",
                row => ReadingEntry.NameOf(row.Long("reading_id")), ("id", id)).ToValueList(),
            Workers = database.Query(
                """
                SELECT DISTINCT worker FROM queue_task WHERE job_id = @id AND state = 'taken' AND leased_until >= clock_timestamp()
                ORDER BY worker
                """, row => row.Text("worker"), ("id", id)).ToValueList(),
        };
    }

    /// <summary>Takes a job out: what was read stays, what was not is forgotten.</summary>
    public void Drop(long id)
    {
        List<string> folders = database.Query(
            "DELETE FROM queue_job WHERE id = @id RETURNING folder", row => row.Text("folder"), ("id", id));
        foreach (string name in folders) waiting.Discard(name);
    }
}
