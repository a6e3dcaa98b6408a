using System.Collections.Concurrent;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Photos that any of a workshop's computers may read: each is taken by one of them, and nothing is kept twice.</summary>
public sealed class QueueTests : IDisposable
{
    private static readonly TimeSpan s_long = TimeSpan.FromMinutes(10);

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void Every_photo_is_looked_at_once_and_every_card_read_with_all_of_its_photos()
    {
        using CardArchive archive = _scratch.Open();
        QueueJob job = Put(archive, "a.jpg", "b.jpg", "c.jpg");
        Assert.Equal(("q1", 3, 0, 0), (job.Name, job.Photos, job.Looked, job.Cards));

        Assert.Equal("a.jpg", Looked(archive, 17, 18));
        Assert.Equal("b.jpg", Looked(archive));
        Assert.Equal("c.jpg", Looked(archive, 17));
        Assert.Equal((3, 0), (archive.QueueJob("q1").Value.Looked, archive.QueueJob("q1").Value.Cards));

        QueuedWork first = Taken(archive), second = Taken(archive);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        Assert.Equal((17, "a.jpg c.jpg"), (first.Card, Names(first)));
        Assert.Equal((18, "a.jpg"), (second.Card, Names(second)));
        Assert.Equal("a.jpg", File.ReadAllText(second.Photos[0].Path));
        Assert.Equal(2, archive.QueueJob("q1").Value.Cards);
    }

    [Fact]
    public void Photos_of_one_card_need_no_look()
    {
        using CardArchive archive = _scratch.Open();
        archive.PutInQueue(Photos("a.jpg", "b.jpg") with { IsOfOneCard = true });
        QueuedWork work = Taken(archive);
        Assert.Equal((false, null, "a.jpg b.jpg"), (work.IsLook, work.Card, Names(work)));
    }

    [Fact]
    public void What_one_does_not_finish_another_takes_and_the_first_can_keep_nothing()
    {
        using CardArchive archive = _scratch.Open();
        archive.PutInQueue(Photos("a.jpg") with { IsOfOneCard = true });
        QueuedWork lost = archive.TakeWork("one", TimeSpan.Zero).Value!;
        QueuedWork work = Taken(archive);
        ReadingToKeep reading = Kept.Reading(Kept.Plan());

        Assert.Equal("queue-taken-over", archive.KeepReading(reading with { Claim = lost.Claim }).Refusal!.ToldCode());
        Assert.Empty(archive.Find(new()).Value);
        Assert.False(archive.RenewWork(lost.Claim, s_long).Value);
        Assert.False(archive.RefuseWork(lost.Claim).Value || archive.GiveBackWork(lost.Claim).Value);

        Assert.True(archive.RenewWork(work.Claim, s_long).Value);
        Assert.True(archive.KeepReading(reading with { Claim = work.Claim }).Value.IsNew);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        QueueJob done = archive.QueueJob("q1").Value;
        Assert.Equal((1, 1, true), (done.Cards, done.CardsDone, done.Done is not null));
        Assert.Single(done.Readings);
        Assert.Equal("queue-taken-over", archive.KeepReading(reading with { Claim = work.Claim }).Refusal!.ToldCode());
    }

    [Fact]
    public void A_lease_that_is_renewed_does_not_end()
    {
        using CardArchive archive = _scratch.Open();
        Put(archive, "a.jpg");
        QueuedWork work = archive.TakeWork("one", TimeSpan.Zero).Value!;
        Assert.True(archive.RenewWork(work.Claim, s_long).Value);
        Assert.Null(archive.TakeWork("two", s_long).Value);
        Assert.Equal(["one"], archive.QueueJob("q1").Value.Workers);
    }

    [Fact]
    public void A_photo_that_ends_three_workers_is_not_tried_again_and_is_told()
    {
        using CardArchive archive = _scratch.Open();
        Put(archive, "bad.jpg", "good.jpg");
        foreach (string worker in (string[])["one", "two", "three"])
            Assert.Equal("bad.jpg", Names(archive.TakeWork(worker, TimeSpan.Zero).Value!));
        Assert.Equal("good.jpg", Names(Taken(archive)));
        QueueRefusal refusal = Assert.Single(archive.QueueJob("q1").Value.Refusals);
        Assert.Equal(("bad.jpg", "queue-poisoned"), (refusal.Photos, refusal.Code));
        Assert.Contains("three", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_given_back_counts_as_no_try()
    {
        using CardArchive archive = _scratch.Open();
        Put(archive, "a.jpg");
        for (int i = 0; i < 9; i++) Assert.True(archive.GiveBackWork(Taken(archive).Claim).Value);
        Assert.Equal("a.jpg", Names(Taken(archive)));
    }

    [Fact]
    public void Photos_leave_the_folder_when_nothing_waits_for_them_and_reasons_stay()
    {
        using CardArchive archive = _scratch.Open();
        Put(archive, "a.jpg");
        Put(archive, "b.jpg");
        Assert.Equal(2, Waiting().Length);
        Assert.True(archive.RefuseWork(Taken(archive).Claim with { Refusals = [new("a.jpg", "blurred", "It is blurred.")] }).Value);
        Assert.Equal("b.jpg", Names(Taken(archive)));
        Assert.Equal("b.jpg", File.ReadAllText(Assert.Single(Waiting())));
        QueueJob done = archive.QueueJob("q1").Value;
        Assert.Equal(("It is blurred.", true), (done.Refusals[0].Message, done.Done is not null));

        Assert.Equal("q2", archive.DropQueueJob("Q2").Value.Name);
        Assert.Empty(Waiting());
        Assert.Equal("queue-no-such", archive.QueueJob("q2").Refusal!.ToldCode());
        Assert.Equal(["q1"], archive.QueueJobs().Value.Select(job => job.Name));
    }

    /// <summary>Whoever ended a job may have died before its photos were deleted; whoever filled a folder, before it was a job.</summary>
    [Fact]
    public void What_was_left_behind_goes_when_another_job_ends()
    {
        using CardArchive archive = _scratch.Open();
        Put(archive, "a.jpg");
        string left = Path.GetDirectoryName(Waiting()[0])!, filling = Path.Combine(_scratch.Folder, "queue", "being-filled");
        archive.TellCards(Taken(archive).Claim, []);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        Directory.CreateDirectory(left);
        Directory.CreateDirectory(filling);

        Put(archive, "b.jpg");
        archive.TellCards(Taken(archive).Claim, []);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        Assert.False(Directory.Exists(left));
        Assert.True(Directory.Exists(filling));

        _scratch.Clock.Now = DateTimeOffset.UtcNow.AddDays(2);
        Put(archive, "c.jpg");
        archive.TellCards(Taken(archive).Claim, []);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        Assert.False(Directory.Exists(filling));
    }

    [Fact]
    public void Many_at_once_take_each_photo_once()
    {
        using (CardArchive archive = _scratch.Open()) Put(archive, [.. Enumerable.Range(0, 60).Select(i => $"{i}.jpg")]);
        ConcurrentBag<string> looked = [];
        Parallel.For(0, 8, new ParallelOptions { MaxDegreeOfParallelism = 8 }, worker =>
        {
            using CardArchive archive = _scratch.Open();
            while (archive.TakeWork($"{worker}", s_long).Value is { IsLook: true } work)
            {
                looked.Add(Names(work));
                Assert.True(archive.TellCards(work.Claim, []).Value);
            }
        });
        Assert.Equal(Enumerable.Range(0, 60).Select(i => $"{i}.jpg").Order(StringComparer.Ordinal), looked.Order(StringComparer.Ordinal));
        using CardArchive after = _scratch.Open();
        Assert.NotNull(after.QueueJob("q1").Value.Done);
    }

    [Fact]
    public void A_photo_that_cannot_be_copied_puts_nothing_in()
    {
        using CardArchive archive = _scratch.Open();
        PhotosToRead photos = Photos("a.jpg");
        Assert.True(archive.PutInQueue(photos with { Paths = [.. photos.Paths, _scratch["gone.jpg"]] }).IsRefused);
        Assert.Empty(archive.QueueJobs().Value);
        Assert.Empty(Waiting());
    }

    [Fact]
    public void An_archive_on_one_computer_has_no_queue()
    {
        using CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value;
        Assert.Equal("queue-needs-server", own.PutInQueue(Photos("a.jpg")).Refusal!.ToldCode());
        Assert.Equal("queue-needs-server", own.TakeWork("one", s_long).Refusal!.ToldCode());
    }

    [Fact]
    public void An_archive_from_before_there_was_a_queue_gets_one()
    {
        PostgresAddress address = PostgresAddress.Of(_scratch.Address).Value;
        PostgresDatabase.Open(address, mayMake: true, [.. PostgresDatabase.Scripts.Take(1)]).Value.Dispose();
        using CardArchive archive = _scratch.Open();
        Assert.Equal("q1", Put(archive, "a.jpg").Name);
    }

    private QueueJob Put(CardArchive archive, params string[] names) => archive.PutInQueue(Photos(names)).Value;

    private PhotosToRead Photos(params string[] names)
    {
        foreach (string name in names) File.WriteAllText(_scratch[name], name);
        return new() { Paths = names.Select(name => _scratch[name]).ToValueList(), Request = new byte[] { 1 }, PutBy = "ada@bench" };
    }

    private static QueuedWork Taken(CardArchive archive) => archive.TakeWork("two", s_long).Value!;

    private static string Looked(CardArchive archive, params int[] numbers)
    {
        QueuedWork work = Taken(archive);
        Assert.True(work.IsLook && archive.TellCards(work.Claim, [.. numbers]).Value);
        return Names(work);
    }

    private static string Names(QueuedWork work) => string.Join(' ', work.Photos.Select(photo => photo.Name));

    private string[] Waiting() => Directory.Exists(Path.Combine(_scratch.Folder, "queue"))
        ? Directory.GetFiles(Path.Combine(_scratch.Folder, "queue"), "*", SearchOption.AllDirectories)
        : [];
}
