using System.IO.Compression;
using System.Text;
using CardScan.Model;

namespace CardScan.Archive.Tests;

public sealed class BundleTests : IDisposable
{
    private readonly Scratch _from = new();
    private readonly Scratch _to = new();

    public void Dispose()
    {
        _from.Dispose();
        _to.Dispose();
    }

    [Fact]
    public void A_bundle_brings_everything_once()
    {
        ReadingToKeep what = Kept.Reading(Kept.Plan());
        string bundle = Export(what);

        _to.Clock.Now = _to.Clock.Now.AddDays(9);
        using CardArchive archive = _to.Open();
        Assert.Equal(new BundlePart(1, 1), archive.ImportBundle(bundle).Value);
        Assert.Equal(new BundlePart(0, 0), archive.ImportBundle(bundle).Value);

        CardEntry card = Assert.Single(archive.Find(new()).Value);
        ReadingEntry reading = Assert.Single(archive.ReadingsOf(card.Id).Value);
        Assert.Equal(what.Reading, archive.Reading(reading.Id).Value);
        Assert.Equal(what.Photos[0].ToArray(), _to.Store.Bytes(reading.Photos[0].Path!)!);
        Assert.Equal(what.Report.ToArray(), _to.Store.Bytes(reading.ReportPath!)!);
        Assert.Equal(_from.Clock.Now, reading.ReadUtc);
        Assert.Equal(["a note on B-1", "a note on c1", "a note on r1"],
            archive.Notes(new(card.Name, CardId: card.Id)).Value.Select(note => note.Text).Order());
        Assert.Equal(["kitchen"], card.Tags);
        Assert.Empty(archive.Verify().Value.Faults);
    }

    [Fact]
    public void An_older_reading_of_the_same_photos_does_not_take_the_place_of_a_newer_one()
    {
        string bundle = Export(Kept.Reading(Kept.Plan(), darkness: 0.4));
        _to.Clock.Now = _from.Clock.Now.AddDays(1);
        using CardArchive archive = _to.Open();
        long own = archive.KeepReading(Kept.Reading(Kept.Plan(), darkness: 0.5)).Value.Id;
        Assert.Equal(new BundlePart(0, 1), archive.ImportBundle(bundle).Value);
        Assert.Equal([own], archive.ReadingsOf(archive.Resolve("17").Value).Value.Select(reading => reading.Id));
    }

    [Fact]
    public void A_card_that_is_removed_while_it_is_exported_goes_whole_or_is_told()
    {
        string bundle = _from["pruned.zip"];
        ReadingToKeep alone = Kept.Reading(Kept.Plan()) with { Photos = [], AnnotatedPictures = [], Report = default };
        using (CardArchive archive = _from.Open()) archive.KeepReading(alone);
        // The time of the bundle is asked for after its cards were looked up: that is when another process removes them.
        PruningClock clock = new(_from);
        using CardArchive exporting = CardArchive.Open(_from.Address, clock).Value;
        Assert.Equal(new BundlePart(1, 1), exporting.ExportBundle(new(), bundle).Value);
        Assert.True(clock.HasPruned);
        Assert.Equal(0, exporting.Count(new()).Value);
        using CardArchive other = _to.Open();
        Assert.Equal(new BundlePart(1, 1), other.ImportBundle(bundle).Value);
    }

    [Fact]
    public void A_file_that_is_removed_while_it_is_exported_is_told_and_no_bundle_is_left()
    {
        using (CardArchive archive = _from.Open()) archive.KeepReading(Kept.Reading(Kept.Plan()));
        using CardArchive exporting = CardArchive.Open(_from.Address, new PruningClock(_from)).Value;
        Assert.Equal("archive-file-gone", exporting.ExportBundle(new(), _from["pruned.zip"]).Refusal!.ToldCode());
        Assert.False(File.Exists(_from["pruned.zip"]));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_photo_that_is_missing_is_told_by_its_name_and_not_as_a_disk_that_is_full(bool isWholeFolder)
    {
        using CardArchive archive = _from.Open();
        archive.KeepReading(Kept.Reading(Kept.Plan()));
        string photo = _from.Store.Standing().Single(file => file.Extension == "jpg").Path;
        _from.Store.Delete(photo);
        if (isWholeFolder && _from.Store.Folder is not null) Directory.Delete(Path.GetDirectoryName(photo)!, recursive: true);
        Refusal refusal = archive.ExportBundle(new(), _from["photo.zip"]).Refusal!;
        Assert.Equal("archive-file-gone", refusal.ToldCode());
        Assert.Contains(".jpg", refusal.Seen, StringComparison.Ordinal);
        Assert.False(File.Exists(_from["photo.zip"]));
    }

    [Fact]
    public void A_bundle_with_one_name_twice_is_told_so()
    {
        string bundle = Export(Kept.Reading(Kept.Plan()));
        string name = "";
        using (ZipArchive zip = ZipFile.Open(bundle, ZipArchiveMode.Update))
        {
            name = zip.Entries.First(entry => entry.FullName.StartsWith("readings/", StringComparison.Ordinal)).FullName;
            Put(zip, name, "another"u8.ToArray());
        }

        using CardArchive archive = _to.Open();
        Refusal refusal = archive.ImportBundle(bundle).Refusal!;
        Assert.Equal("bundle-broken", refusal.ToldCode());
        Assert.Contains($"\"{name}\" is in it twice", refusal.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_bundle_that_cannot_be_read_is_blamed_itself()
    {
        string bundle = Export(Kept.Reading(Kept.Plan()));
        using CardArchive archive = _to.Open();
        using FileStream alone = new(bundle, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
        Refusal refusal = archive.ImportBundle(bundle).Refusal!;
        Assert.Equal("file-unreadable", refusal.ToldCode());
        Assert.Contains(bundle, refusal.Seen, StringComparison.Ordinal);
    }

    /// <summary>
    /// The list of a zip file says how many entries it has, and it takes half a gigabyte to hold a million: they are refused by the
    /// list, also where it says that it is a short one.
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Entries_that_the_list_of_the_bundle_cannot_name_are_refused_before_they_are_held_in_memory(bool saysFew)
    {
        const int unused = 1_000_000;
        string bundle = Export(Kept.Reading(Kept.Plan()));
        WithUnused(bundle, unused, saysFew);
        using CardArchive archive = _to.Open();
        long before = GC.GetAllocatedBytesForCurrentThread();
        Refusal refusal = archive.ImportBundle(bundle).Refusal!;
        Assert.Equal("bundle-entries", refusal.ToldCode());
        Assert.Contains($"{unused + 6}", refusal.Seen, StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 2_000_000);
        Assert.Empty(archive.Find(new()).Value);
    }

    [Fact]
    public void Entries_that_the_list_of_the_bundle_does_not_name_are_refused() => Refused("bundle-entries", zip =>
    {
        zip.GetEntry("manifest.json")!.Delete();
        // A list that is long enough for as many, and names none of them.
        Put(zip, "manifest.json", Encoding.UTF8.GetBytes(
            $$"""
            { "format": "cardscan-bundle/1", "madeUtc": "{{Random()}}", "cards": [], "readings": [], "batches": [] }
            """));
        for (int i = 0; i < 1001; i++) Put(zip, $"files/{i:x64}.jpg", []);

        static string Random() =>
            string.Concat(Enumerable.Range(0, 1000).Select(i => CardJson.Sha256(BitConverter.GetBytes(i))));
    });

    [Fact]
    public void A_large_zip_file_without_a_list_of_ours_is_told_so()
    {
        using (ZipArchive zip = ZipFile.Open(_from["other.zip"], ZipArchiveMode.Create))
        {
            for (int i = 0; i < 1001; i++) Put(zip, $"{i}.txt", []);
        }

        using CardArchive archive = _to.Open();
        Refusal refusal = archive.ImportBundle(_from["other.zip"]).Refusal!;
        Assert.Equal("bundle-broken", refusal.ToldCode());
        Assert.Contains("\"manifest.json\" is missing", refusal.Seen, StringComparison.Ordinal);
    }

    /// <summary>
    /// Adds entries of no bytes to the list at the end of a zip file. What stands last then has the new numbers (PKWARE's APPNOTE.TXT,
    /// 4.3.12 to 4.3.16; from memory).
    /// </summary>
    private static void WithUnused(string bundle, int count, bool saysFew)
    {
        byte[] zip = File.ReadAllBytes(bundle);
        int end = zip.AsSpan().LastIndexOf("PK\u0005\u0006"u8);
        int start = BitConverter.ToInt32(zip, end + 16);
        using FileStream file = new(bundle, FileMode.Create);
        file.Write(zip, 0, end);
        using BinaryWriter list = new(file, Encoding.ASCII);
        for (int i = 0; i < count; i++)
        {
            byte[] header = new byte[46];
            "PK\u0001\u0002"u8.CopyTo(header);
            byte[] name = Encoding.ASCII.GetBytes($"files/{i:x64}.jpg");
            header[28] = (byte)name.Length;
            list.Write(header);
            list.Write(name);
        }

        list.Flush();
        long position = file.Position, length = position - start, entries = saysFew ? 6 : count + 6;
        list.Write("PK\u0006\u0006"u8);
        list.Write(44L);
        list.Write(45 | (45 << 16));
        list.Write(0L);
        list.Write(entries);
        list.Write(entries);
        list.Write(length);
        list.Write((long)start);
        list.Write("PK\u0006\u0007"u8);
        list.Write(0);
        list.Write(position);
        list.Write(1);
        list.Write("PK\u0005\u0006"u8);
        list.Write(0);
        list.Write(-1);
        list.Write(-1);
        list.Write(-1);
        list.Write((short)0);
    }

    [Theory]
    [InlineData("../outside.txt")]
    [InlineData("/etc/outside.txt")]
    [InlineData("files/../../outside.jpg")]
    [InlineData("C:\\outside.txt")]
    [InlineData("files\\..\\outside.jpg")]
    [InlineData("files/")]
    [InlineData("readme.txt")]
    public void A_bundle_with_a_name_that_is_none_of_ours_is_refused_whole(string name) =>
        Refused("bundle-foreign-name", zip => Put(zip, name, "x"u8.ToArray()));

    [Fact]
    public void A_bundle_that_unpacks_without_end_is_refused() => Refused("bundle-too-large", zip =>
    {
        zip.GetEntry("manifest.json")!.Delete();
        Put(zip, "manifest.json", new byte[60_000_000]);
    });

    [Fact]
    public void A_bundle_whose_content_is_not_what_its_name_says_is_refused() =>
        Refused("bundle-broken", zip => Replace(zip, "files/", "other"u8.ToArray()));

    [Fact]
    public void A_bundle_with_another_reading_under_the_old_name_is_refused() =>
        Refused("bundle-broken", zip => Replace(zip, "readings/", "{}"u8.ToArray()));

    [Fact]
    public void A_bundle_of_a_newer_format_is_refused() =>
        Refused("bundle-newer", zip => Replace(zip, "manifest.json", """{ "format": "cardscan-bundle/2" }"""u8.ToArray()));

    [Theory]
    [InlineData("{}")]
    [InlineData("[]")]
    [InlineData("nonsense")]
    [InlineData("""{ "format": "\ud800" }""")]
    [InlineData("""{ "format": "cardscan-bundle/1" }""")]
    [InlineData("""{ "format": "cardscan-bundle/1", "madeUtc": "", "cards": [null], "readings": [], "batches": [] }""")]
    [InlineData(
        """{ "format": "cardscan-bundle/1", "madeUtc": "", "cards": [{ "planSha256": "../x", "keptUtc": "2026-01-01T00:00:00.000Z","""
            + """ "makers": { "notes": [], "tags": [] } }], "readings": [], "batches": [] }""")]
    public void A_bundle_whose_manifest_makes_no_sense_is_refused(string manifest) =>
        Refused("bundle-broken", zip => Replace(zip, "manifest.json", Encoding.UTF8.GetBytes(manifest)));

    [Fact]
    public void What_is_no_zip_file_is_refused()
    {
        File.WriteAllText(_from["x.zip"], "no zip");
        using CardArchive archive = _to.Open();
        Assert.Equal("bundle-broken", archive.ImportBundle(_from["x.zip"]).Refusal!.ToldCode());
        Assert.Equal("bundle-missing", archive.ImportBundle(_from["y.zip"]).Refusal!.ToldCode());
    }

    [Fact]
    public void A_bundle_that_is_cut_short_anywhere_leaves_the_archive_as_it_was()
    {
        byte[] whole = File.ReadAllBytes(Export(Kept.Reading(Kept.Plan())));
        using CardArchive archive = _to.Open();
        for (int length = 0; length < whole.Length; length += Math.Max(1, whole.Length / 40))
        {
            File.WriteAllBytes(_from["cut.zip"], whole[..length]);
            Assert.True(archive.ImportBundle(_from["cut.zip"]).IsRefused, $"{length} of {whole.Length} bytes");
            Assert.Empty(archive.Find(new()).Value);
        }

        Assert.Empty(archive.Verify().Value.Leftovers);
    }

    [Fact]
    public void An_export_replaces_no_file()
    {
        string bundle = Export(Kept.Reading(Kept.Plan()));
        byte[] before = File.ReadAllBytes(bundle);
        using CardArchive archive = _from.Open();
        Assert.Equal("export-exists", archive.ExportBundle(new(), bundle).Refusal!.ToldCode());
        Assert.Equal(before, File.ReadAllBytes(bundle));
    }

    private string Export(ReadingToKeep what)
    {
        using CardArchive archive = _from.Open();
        archive.KeepReading(what);
        foreach (string name in (string[])["c1", "r1", "B-1"]) archive.AddNote(archive.Resolve(name).Value, $"a note on {name}");
        archive.Tag(archive.Resolve("c1").Value, ["kitchen"]);
        Assert.Equal(new BundlePart(1, 1), archive.ExportBundle(new(), _from["bundle.zip"]).Value);
        return _from["bundle.zip"];
    }

    private void Refused(string code, Action<ZipArchive> spoil)
    {
        string bundle = Export(Kept.Reading(Kept.Plan()));
        using (ZipArchive zip = ZipFile.Open(bundle, ZipArchiveMode.Update)) spoil(zip);
        using CardArchive archive = _to.Open();
        Assert.Equal(code, archive.ImportBundle(bundle).Refusal!.ToldCode());
        Assert.Empty(archive.Find(new()).Value);
        Assert.Empty(archive.Verify().Value.Leftovers);
        Assert.False(File.Exists(_to["outside.txt"]) || File.Exists(_to["outside.jpg"]));
    }

    private static void Replace(ZipArchive zip, string start, byte[] bytes)
    {
        ZipArchiveEntry entry = zip.Entries.First(entry => entry.FullName.StartsWith(start, StringComparison.Ordinal));
        string name = entry.FullName;
        entry.Delete();
        Put(zip, name, bytes);
    }

    private static void Put(ZipArchive zip, string name, byte[] bytes)
    {
        using Stream entry = zip.CreateEntry(name).Open();
        entry.Write(bytes);
    }

    /// <summary>A clock at whose first stroke another process removes everything.</summary>
    private sealed class PruningClock(Scratch scratch) : TimeProvider
    {
        internal bool HasPruned { get; private set; }

        public override DateTimeOffset GetUtcNow()
        {
            if (HasPruned) return scratch.Clock.Now;
            HasPruned = true;
            using CardArchive other = scratch.Open();
            Assert.False(other.Prune(new([new("c1", CardId: 1)], Superseded: false), isMeant: true).IsRefused);
            return scratch.Clock.Now;
        }
    }
}
