using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>What an object store and the way to it may do to an archive.</summary>
public sealed class StoreTests : IDisposable
{
    private static readonly TimeSpan s_long = TimeSpan.FromMinutes(10);

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void What_is_put_comes_back_is_listed_and_can_be_deleted()
    {
        S3Client client = ObjectStore.Shared.Client();
        string start = $"{Guid.NewGuid():N}/";
        string[] names = [$"{start}1.jpg", $"{start}2 of+two & é~.jpg", $"{start}3=%25.jpg"];
        foreach (string name in names) Put(client, name, name);
        Assert.All(names, name => Assert.Equal(name, Encoding.UTF8.GetString(client.Get(name)!)));
        Assert.Equal(Encoding.UTF8.GetByteCount(names[1]), client.SizeOf(names[1]));
        Assert.Equal(names, client.List(start).Select(found => found.Key));
        DateTime now = DateTime.UtcNow;
        Assert.All(client.List(start), found => Assert.InRange(found.ChangedUtc, now.AddHours(-1), now.AddHours(1)));

        S3Client slow = new(ObjectStore.Shared.Address(), ObjectStore.Keys) { ListedAtOnce = 2 };
        Assert.Equal(names, slow.List(start).Select(found => found.Key));

        foreach (string name in names) client.Delete(name);
        client.Delete(names[0]);
        Assert.Empty(client.List(start));
        Assert.Equal((null, null), (client.Get(names[0]), client.SizeOf(names[0])));
    }

    [Fact]
    public void Other_bytes_than_those_that_were_named_are_not_taken()
    {
        S3Client client = ObjectStore.Shared.Client();
        string name = $"{Guid.NewGuid():N}";
        S3Fault fault = Assert.Throws<S3Fault>(() => client.Put(name, CardJson.Sha256("one"u8), () => new MemoryStream("two"u8.ToArray())));
        Assert.Equal("store-failed", fault.Refusal.ToldCode());
        Assert.Null(client.Get(name));
    }

    [Fact]
    public void Who_has_the_wrong_key_or_the_wrong_time_or_no_bucket_is_told_so()
    {
        S3Address there = ObjectStore.Shared.Address();
        Assert.Equal("store-login", Fault(new(there, ObjectStore.Keys with { Secret = "other" })).ToldCode());
        Assert.Equal("store-login", Fault(new(there, new("workshop:nobody", "quite-secret", null))).ToldCode());
        Assert.Equal("store-no-bucket", Fault(new(ObjectStore.Shared.Address(bucket: "elsewhere"), ObjectStore.Keys)).ToldCode());
        Refusal late = Fault(new(there, ObjectStore.Keys, new SettableClock { Now = DateTimeOffset.UtcNow.AddHours(2) }));
        Assert.Equal("store-clock", late.ToldCode());
        Assert.Contains($"{DateTime.UtcNow:yyyy-MM-dd HH}", late.Seen, StringComparison.Ordinal);

        static Refusal Fault(S3Client client) => Assert.Throws<S3Fault>(() => client.Get("anything")).Refusal;
    }

    [Fact]
    public void A_store_that_is_not_there_is_named_and_nothing_is_made()
    {
        string address = _scratch.Address.Replace($":{ObjectStore.Shared.Port}", ":1", StringComparison.Ordinal);
        Refusal refusal = CardArchive.Open(address, _scratch.Clock).Refusal!;
        Assert.Equal("store-unreachable", refusal.ToldCode());
        Assert.Contains("127.0.0.1:1", refusal.Seen, StringComparison.Ordinal);
        Assert.False(_scratch.IsMade("archive"));
    }

    [Fact]
    public void A_part_of_a_bucket_without_the_archives_files_is_refused_and_nothing_is_put_there()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(5)));
        string elsewhere = _scratch.Address.Replace("/archive&", "/elsewhere&", StringComparison.Ordinal);
        Assert.Equal("archive-files-gone", CardArchive.Open(elsewhere, _scratch.Clock).Refusal!.ToldCode());
        Assert.Empty(_scratch.StoreOf("elsewhere").Standing());
        Assert.Null(_scratch.StoreOf("elsewhere").Mark);
    }

    [Fact]
    public void The_files_of_another_archive_are_left_alone()
    {
        using (CardArchive other = CardArchive.Open(_scratch.AddressOf("other"), _scratch.Clock).Value)
            other.KeepReading(Kept.Reading(Kept.Plan(5)));
        string theirs = _scratch.Address.Replace("/archive&", "/other&", StringComparison.Ordinal);
        Assert.Equal("archive-other-files", CardArchive.Open(theirs, _scratch.Clock).Refusal!.ToldCode());
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(6)));
        Assert.Equal("archive-other-files", CardArchive.Open(theirs, _scratch.Clock).Refusal!.ToldCode());
        using CardArchive again = CardArchive.Open(_scratch.AddressOf("other"), _scratch.Clock).Value;
        Assert.True(again.Verify().Value.IsSound);
    }

    [Fact]
    public void What_the_store_has_lost_or_spoiled_is_told_and_keeping_it_again_brings_it_back()
    {
        using CardArchive archive = _scratch.Open();
        ReadingToKeep what = Kept.Reading(Kept.Plan());
        KeptReading kept = archive.KeepReading(what).Value;
        ReadingEntry entry = archive.ReadingEntry(kept.Id).Value;
        string photo = entry.Photos[0].Path!, report = entry.ReportPath!;
        _scratch.Store.Delete(photo);
        Put(ObjectStore.Shared.Client(), report[$"s3://{ObjectStore.Bucket}/".Length..], "spoiled");

        ValueList<string> faults = archive.Verify().Value.Faults;
        Assert.Equal(2, faults.Count);
        Assert.Contains(faults, fault => fault == $"{photo} is missing.");
        Assert.Contains(faults, fault => fault.StartsWith($"{report} is not what was kept", StringComparison.Ordinal));
        Assert.False(archive.ExportBundle(new(), _scratch["b.zip"]) is { IsRefused: false });

        archive.KeepReading(what);
        Assert.Empty(archive.Verify().Value.Faults);
        Assert.False(archive.ExportBundle(new(), _scratch["b.zip"]).IsRefused);
    }

    [Fact]
    public void A_photo_that_somebody_prunes_between_sending_and_keeping_is_sent_again()
    {
        FileStore store = _scratch.Store;
        using Staging staging = new(store);
        StagedFile file = staging.Add("a photo"u8.ToArray(), "jpg");
        staging.Send();
        store.Delete(store.PathOf(file.Sha256, file.Extension));
        Assert.Equal(7, store.Keep(file));
        Assert.True(store.IsSound(file.Sha256, file.Extension));
    }

    [Fact]
    public void What_is_pruned_leaves_the_bucket_and_what_others_need_stays()
    {
        using CardArchive archive = _scratch.Open();
        archive.KeepReading(Kept.Reading(Kept.Plan(1), "one"));
        archive.KeepReading(Kept.Reading(Kept.Plan(2), "two"));
        PruneRequest first = new([archive.Resolve("r1").Value], Superseded: false);
        ValueList<string> told = archive.Prune(first, isMeant: false).Value.Files;
        Assert.NotEmpty(told);
        Assert.All(told, file => Assert.NotNull(_scratch.Store.Bytes(file)));
        Assert.Equal(told, archive.Prune(first, isMeant: true).Value.Files);
        Assert.All(told, file => Assert.Null(_scratch.Store.Bytes(file)));
        ArchiveHealth health = archive.Verify().Value;
        Assert.Equal((true, 1, 0), (health.IsSound, health.Readings, health.Leftovers.Count));
    }

    [Fact]
    public void What_no_row_knows_is_a_leftover_and_repair_deletes_it()
    {
        using CardArchive archive = _scratch.Open();
        archive.KeepReading(Kept.Reading(Kept.Plan()));
        int standing = _scratch.Store.Standing().Count();
        string left = _scratch.Store.PathOf(CardJson.Sha256("left"u8), "jpg");
        Put(ObjectStore.Shared.Client(), left[$"s3://{ObjectStore.Bucket}/".Length..], "left");
        Assert.Equal([left], archive.Verify().Value.Leftovers);
        Assert.Contains(archive.Repair().Value, line => line.Contains(left, StringComparison.Ordinal));
        Assert.Empty(archive.Verify().Value.Leftovers);
        Assert.Equal(standing, _scratch.Store.Standing().Count());
    }

    [Fact]
    public void An_archive_goes_from_a_folder_to_a_bucket_to_a_servers_folder_and_back_with_the_same_bytes()
    {
        using CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value, bucket = _scratch.Open();
        for (int i = 0; i < 4; i++) own.KeepReading(Kept.Reading(Kept.Plan(i), $"photo {i}"));
        string besides = _scratch.AddressOf("besides").Split("?files=")[0] + $"?files={_scratch["besides"]}";
        using CardArchive server = CardArchive.Open(besides, _scratch.Clock).Value;
        using CardArchive again = CardArchive.Open(_scratch.AddressOf("again"), _scratch.Clock).Value;
        using CardArchive back = CardArchive.Open(_scratch["back"], _scratch.Clock).Value;

        Assert.Equal(new(4, 4, 12), own.CopyTo(bucket).Value);
        Assert.Equal(new(4, 4, 12), bucket.CopyTo(server).Value);
        Assert.Equal(new(4, 4, 12), server.CopyTo(again).Value);
        Assert.Equal(new(4, 4, 12), again.CopyTo(back).Value);
        Assert.All([bucket, server, again, back], archive => Assert.True(archive.Verify().Value is { IsSound: true, Files: 12 }));
        string[] first = Bytes(new FolderStore(_scratch["own"]));
        FileStore[] others =
            [_scratch.Store, new FolderStore(_scratch["besides"]), _scratch.StoreOf("again"), new FolderStore(_scratch["back"])];
        Assert.All(others, store => Assert.Equal(first, Bytes(store)));

        static string[] Bytes(FileStore store) => [.. store.Standing()
            .Select(file => $"{file.Sha256}.{file.Extension} {CardJson.Sha256(store.Bytes(file.Path)!)}").Order(StringComparer.Ordinal)];
    }

    [Fact]
    public void A_file_that_the_bucket_has_lost_stops_a_copy_before_anything_is_kept()
    {
        using CardArchive bucket = _scratch.Open(), to = CardArchive.Open(_scratch["to"], _scratch.Clock).Value;
        bucket.KeepReading(Kept.Reading(Kept.Plan()));
        _scratch.Store.Delete(_scratch.Store.Standing().First().Path);
        Assert.Equal("archive-file-gone", bucket.CopyTo(to).Refusal!.ToldCode());
        Assert.Empty(to.Find(new()).Value);
    }

    [Fact]
    public void Photos_of_the_queue_wait_in_the_bucket_and_leave_it()
    {
        using CardArchive archive = _scratch.Open();
        QueueJob job = archive.PutInQueue(Photos("a.jpg", "b.b b")).Value;
        QueuedWork work = archive.TakeWork("one", s_long).Value!;
        Assert.Equal("a.jpg", Encoding.UTF8.GetString(CardArchive.FileBytes(_scratch.Address, work.Photos[0].Path).Value!));
        Assert.Equal(2, Waiting());
        Assert.True(archive.TellCards(work.Claim, []).Value);
        Assert.True(archive.TellCards(archive.TakeWork("one", s_long).Value!.Claim, []).Value);
        Assert.Null(archive.TakeWork("one", s_long).Value);
        Assert.Equal((true, 0), (archive.QueueJob(job.Name).Value.Done is not null, Waiting()));
        Assert.Null(CardArchive.FileBytes(_scratch.Address, work.Photos[0].Path).Value);
    }

    [Fact]
    public void What_was_left_in_the_queue_goes_when_another_job_ends()
    {
        using CardArchive archive = _scratch.Open();
        _scratch.Store.Waiting.Fill(Photos("left.jpg").Paths, null); // by someone who then died
        Go("a.jpg");
        Assert.Equal(1, Waiting());
        _scratch.Clock.Now = DateTimeOffset.UtcNow.AddDays(2);
        Go("b.jpg");
        Assert.Equal(0, Waiting());

        void Go(string photo)
        {
            archive.PutInQueue(Photos(photo));
            Assert.True(archive.TellCards(archive.TakeWork("one", s_long).Value!.Claim, []).Value);
            Assert.Null(archive.TakeWork("one", s_long).Value);
        }
    }

    [Fact]
    public void A_photo_that_cannot_be_copied_puts_nothing_in()
    {
        using CardArchive archive = _scratch.Open();
        PhotosToRead photos = Photos("a.jpg");
        Assert.True(archive.PutInQueue(photos with { Paths = [.. photos.Paths, _scratch["gone.jpg"]] }).IsRefused);
        Assert.Empty(archive.QueueJobs().Value);
        Assert.Equal(0, Waiting());
    }

    [Fact]
    public void What_was_said_to_be_kept_is_kept_when_the_store_dies_and_the_rest_is_said()
    {
        using ObjectStore store = new();
        string address = _scratch.Address.Replace(ObjectStore.Shared.Server, store.Server, StringComparison.Ordinal);
        CardArchive.Open(address, _scratch.Clock).Value.Dispose();
        List<string> told = [];
        HashSet<string> refused = [];
        for (int round = 0; round < 2; round++)
        {
            Thread[] writers = [.. Enumerable.Range(0, 3).Select(writer => new Thread(() => Write($"{round} {writer}")))];
            foreach (Thread writer in writers) writer.Start();
            int wanted = 4 * (round + 1);
            Assert.True(SpinWait.SpinUntil(() => Told() >= wanted, TimeSpan.FromMinutes(1)));
            store.Kill();
            foreach (Thread writer in writers) writer.Join();
            store.Start();
        }

        Assert.Equal(["store-unreachable"], refused);
        CheckAll(address, told);

        int Told()
        {
            lock (told) return told.Count;
        }

        void Write(string name)
        {
            for (int i = 0; Keep(address, $"{name} {i}", told, refused); i++)
            {
            }
        }
    }

    [Fact]
    public void What_was_said_to_be_kept_is_kept_when_the_connection_is_cut_again_and_again()
    {
        using CutConnection way = new(ObjectStore.Shared.Port);
        string address = _scratch.Address.Replace($":{ObjectStore.Shared.Port}", $":{way.Port}", StringComparison.Ordinal);
        CardArchive.Open(_scratch.Address, _scratch.Clock).Value.Dispose();
        List<string> told = [];
        HashSet<string> refused = [];
        for (int i = 0; i < 12; i++) Keep(address, $"{i}", told, refused);
        Assert.True(way.Cuts > 3, $"{way.Cuts} cuts");
        Assert.True(told.Count > 3, $"{told.Count} kept");
        Assert.Subset(new HashSet<string> { "store-unreachable" }, refused);
        CheckAll(_scratch.Address, told);
    }

    [Fact]
    public void A_store_must_prove_who_it_is()
    {
        using ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        using X509Certificate2 certificate = Certificate(key, "localhost"), other = Certificate(key, "elsewhere.example");
        using ObjectStore store = new(certificate);
        string signer = _scratch["signer.pem"], server = $"https://localhost:{store.Port}";
        Assert.Equal("store-untrusted", Fault(null));
        File.WriteAllText(_scratch["other.pem"], other.ExportCertificatePem());
        Assert.Equal("store-untrusted", Fault(_scratch["other.pem"]));
        File.WriteAllText(signer, certificate.ExportCertificatePem());
        Assert.Equal("store-no-bucket", Fault(signer)); // who asks is known by then
        Assert.Equal("store-untrusted", Fault(signer, server.Replace("localhost", "127.0.0.1", StringComparison.Ordinal)));

        string Fault(string? authority, string? at = null) => Assert.Throws<S3Fault>(() => new S3Client(
            new(new(at ?? server), ObjectStore.Bucket, "", "us-east-1", authority), ObjectStore.Keys).Get("anything")).Refusal.ToldCode();
    }

    private static bool Keep(string address, string name, List<string> told, HashSet<string> refused)
    {
        Outcome<CardArchive> opened = CardArchive.Open(address, TimeProvider.System);
        Outcome<KeptReading> kept = opened.IsRefused ? opened.Refusal! : opened.Value.KeepReading(ReadingOf(name));
        if (!opened.IsRefused) opened.Value.Dispose();
        lock (told)
        {
            if (kept.IsRefused) refused.Add(kept.Refusal!.ToldCode());
            else told.Add(kept.Value.Name);
        }

        return !kept.IsRefused;
    }

    /// <summary>A reading with a page of a usual size.</summary>
    private static ReadingToKeep ReadingOf(string name) => Kept.Reading(Kept.Plan(5), name) with
    {
        Report = Encoding.UTF8.GetBytes(name.PadRight(20_000)),
    };

    private void CheckAll(string address, List<string> told)
    {
        using CardArchive archive = CardArchive.Open(address, _scratch.Clock).Value;
        ArchiveHealth health = archive.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.Equal(told.Count, health.Readings);
        Assert.All(told, name => Assert.False(archive.Reading(archive.Resolve(name).Value.ReadingId!.Value).IsRefused));
        Assert.Equal(told.Count, told.Distinct().Count());
        archive.Repair();
        Assert.Empty(archive.Verify().Value.Leftovers);
    }

    private static void Put(S3Client client, string key, string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        client.Put(key, CardJson.Sha256(bytes), () => new MemoryStream(bytes));
    }

    private PhotosToRead Photos(params string[] names)
    {
        foreach (string name in names) File.WriteAllText(_scratch[name], name);
        return new() { Paths = names.Select(name => _scratch[name]).ToValueList(), Request = new byte[] { 1 }, PutBy = "ada@bench" };
    }

    private int Waiting() => ObjectStore.Shared.Client().List($"{PostgresAddress.Of(_scratch.Address).Value.Bucket!.Prefix}queue/").Count();

    private static X509Certificate2 Certificate(ECDsa key, string name)
    {
        CertificateRequest request = new($"CN={name}", key, HashAlgorithmName.SHA256);
        SubjectAlternativeNameBuilder names = new();
        names.AddDnsName(name);
        request.CertificateExtensions.Add(names.Build());
        return request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
    }
}
