using CardScan.Model;
using CardScan.Model.Tests;
using CsCheck;

namespace CardScan.Archive.Tests;

public sealed class KeepingTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void Any_reading_comes_back_equal()
    {
        using CardArchive archive = _scratch.Open();
        Generators.Reading.Sample(reading =>
        {
            byte[] json = Kept.Json(reading.Plan);
            Reading kept = reading with { PlanSha256 = CardJson.Sha256(json) };
            long id = archive.KeepReading(new() { PlanJson = json, Reading = kept }).Value.Id;
            Assert.Equal(kept, archive.Reading(id).Value);
        }, iter: 100, threads: 1);
    }

    [Fact]
    public void A_reading_with_every_field_comes_back_with_its_files_after_the_archive_was_closed()
    {
        ReadingToKeep what = Kept.Reading(Kept.Plan());
        KeptReading kept;
        using (CardArchive archive = _scratch.Open()) kept = archive.KeepReading(what).Value;

        using CardArchive again = _scratch.Open();
        Assert.Equal(what.Reading, again.Reading(kept.Id).Value);
        ReadingEntry entry = again.ReadingEntry(kept.Id).Value;
        Assert.Equal(what.Photos[0].ToArray(), _scratch.Store.Bytes(entry.Photos[0].Path!)!);
        Assert.Equal(what.AnnotatedPictures[0].ToArray(), _scratch.Store.Bytes(entry.Photos[0].AnnotatedPath!)!);
        Assert.Equal(what.Report.ToArray(), _scratch.Store.Bytes(entry.ReportPath!)!);
        Assert.EndsWith(".jpg", entry.Photos[0].Path, StringComparison.Ordinal);
        Assert.EndsWith(".png", entry.Photos[0].AnnotatedPath, StringComparison.Ordinal);
        Assert.Equal(
            what.Reading.Recommendations.Select(each =>
                (each.Goal, each.PowerPercent, each.SpeedMmPerMin, each.Card, each.Reason, each.Confidence, each.Interval)),
            entry.Recommendations.Select(each =>
                (each.Goal, each.PowerPercent, each.SpeedMmPerMin, each.Card, each.Reason, each.Confidence, each.Interval)));
        Assert.Equal(what.PlanJson.ToArray(), again.PlanJson(kept.CardId).Value);
        Assert.Equal(_scratch.Clock.Now, entry.ReadUtc);
    }

    [Theory]
    [InlineData("jpg", "\u00FF\u00D8\u00FF and more")]
    [InlineData("png", "\u0089PNG\r\n")]
    [InlineData("tif", "II*\0 and more")]
    [InlineData("dng", "II*\0\u0008\0\0\0\u0001\0\u0012\u00C6\u0001\0\u0004\0\0\0\u0001\u0004\0\0")]
    [InlineData("dng", "MM\0*\0\0\0\u0008\0\u0001\u00C6\u0012\0\u0001\0\0\0\u0004\u0001\u0004\0\0")]
    [InlineData("tif", "II*\0\u0008\0\0\0\u0001\0\u0000\u0001\u0001\0\u0004\0\0\0\u0001\u0004\0\0")]
    [InlineData("webp", "RIFF0000WEBPVP8 ")]
    [InlineData("avif", "\0\0\0\u0020ftypavif0000")]
    [InlineData("heic", "\0\0\0\u0020ftypheic0000")]
    [InlineData("bin", "something else")]
    [InlineData("bin", "")]
    public void A_picture_gets_the_extension_of_what_it_is(string extension, string start) =>
        Assert.Equal(extension, FileStore.PictureExtension(System.Text.Encoding.Latin1.GetBytes(start)));

    [Fact]
    public void The_very_same_reading_is_kept_once()
    {
        using CardArchive archive = _scratch.Open();
        KeptReading first = archive.KeepReading(Kept.Reading(Kept.Plan())).Value,
            second = archive.KeepReading(Kept.Reading(Kept.Plan())).Value;
        Assert.Equal((true, false), (first.IsNew, second.IsNew));
        Assert.Equal(first.Id, second.Id);
        Assert.Single(archive.ReadingsOf(first.CardId).Value);
    }

    [Fact]
    public void Reading_the_same_photo_again_adds_a_reading_keeps_one_file_and_the_latest_is_current()
    {
        using CardArchive archive = _scratch.Open();
        KeptReading first = archive.KeepReading(Kept.Reading(Kept.Plan(), darkness: 0.4)).Value,
            second = archive.KeepReading(Kept.Reading(Kept.Plan(), darkness: 0.5)).Value;
        ValueList<ReadingEntry> readings = archive.ReadingsOf(first.CardId).Value;
        Assert.Equal([(second.Id, true), (first.Id, false)], readings.Select(reading => (reading.Id, reading.IsCurrent)));
        Assert.Equal(readings[0].Photos[0].Path, readings[1].Photos[0].Path);
        Assert.Single(_scratch.Store.Standing(), file => file.Extension == "jpg");

        archive.KeepReading(Kept.Reading(Kept.Plan(), darkness: 0.4));
        Assert.Equal([(second.Id, false), (first.Id, true)],
            archive.ReadingsOf(first.CardId).Value.Select(reading => (reading.Id, reading.IsCurrent)));
    }

    /// <summary>Photos that come one by one make a reading each time: the last has what all of them tell.</summary>
    [Fact]
    public void A_reading_gives_way_to_a_later_one_with_more_photos_and_is_current_again_without_it()
    {
        using CardArchive archive = _scratch.Open();
        Plan plan = Kept.Plan();
        foreach (string[] photos in (string[][])[["a"], ["a", "b"], ["c"], ["b", "a", "d"]])
            archive.KeepReading(Kept.ReadingOf(plan, photos));
        Assert.Equal([4L, 3L], Current());

        Remove("r4");
        Assert.Equal([3L, 2L], Current());
        Remove("r2");
        Assert.Equal([3L, 1L], Current());

        // A later one with fewer photos takes nothing from one that has more.
        archive.KeepReading(Kept.ReadingOf(plan, "c", "e"));
        archive.KeepReading(Kept.ReadingOf(plan, "e"));
        Assert.Equal([6L, 5L, 1L], Current());

        IEnumerable<long> Current() =>
            archive.ReadingsOf(1).Value.Where(reading => reading.IsCurrent).Select(reading => reading.Id);
        void Remove(string name) =>
            Assert.False(archive.Prune(new([archive.Resolve(name).Value], Superseded: false), isMeant: true).IsRefused);
    }

    [Fact]
    public void Another_photo_of_the_card_is_a_reading_beside_the_first()
    {
        using CardArchive archive = _scratch.Open();
        archive.KeepReading(Kept.Reading(Kept.Plan(), "a"));
        long card = archive.KeepReading(Kept.Reading(Kept.Plan(), "b")).Value.CardId;
        Assert.All(archive.ReadingsOf(card).Value, reading => Assert.True(reading.IsCurrent));
        Assert.Equal(2, archive.Card(card).Value.Readings);
    }

    [Fact]
    public void A_plan_is_kept_once_and_its_card_is_found_by_its_number()
    {
        using CardArchive archive = _scratch.Open();
        byte[] json = Kept.Json(Kept.Plan(number: 9));
        KeptCard card = archive.KeepCard(json).Value;
        Assert.False(archive.KeepCard(json).Value.IsNew);
        Assert.Equal([card.Id], archive.OpenCards(9).Value.Select(open => open.Id));
        Assert.Empty(archive.OpenCards(10).Value);
        Assert.Equal(json, archive.PlanJson(card.Id).Value);
    }

    [Fact]
    public void The_newest_open_card_of_a_number_comes_first()
    {
        using CardArchive archive = _scratch.Open();
        KeptCard old = archive.KeepCard(Kept.Json(Kept.Plan(9, "birch"))).Value,
            young = archive.KeepCard(Kept.Json(Kept.Plan(9, "lime"))).Value;
        Assert.Equal([young.Id, old.Id], archive.OpenCards(9).Value.Select(card => card.Id));
    }

    [Fact]
    public void A_new_card_gets_a_number_that_none_had()
    {
        using CardArchive archive = _scratch.Open();
        archive.KeepCard(Kept.Json(Kept.Plan(number: 0)));
        archive.KeepCard(Kept.Json(Kept.Plan(number: 2)));
        int[] given = [.. Enumerable.Range(0, 3).Select(_ => archive.KeepNextCard(number => Kept.Json(Kept.Plan(number))).Value.Number)];
        Assert.Equal([1, 3, 4], given);
    }

    [Fact]
    public void A_number_whose_plan_is_refused_stays_free()
    {
        using CardArchive archive = _scratch.Open();
        Assert.Equal("no", archive.KeepNextCard(_ => Refusal.OfInput("no")).Refusal!.Code);
        Assert.Equal(0, archive.KeepNextCard(number => Kept.Json(Kept.Plan(number))).Value.Number);
    }

    [Fact]
    public void Files_that_the_reading_does_not_name_are_a_fault_of_the_program()
    {
        using CardArchive archive = _scratch.Open();
        ReadingToKeep what = Kept.Reading(Kept.Plan());
        Assert.Equal("photo-changed", archive.KeepReading(what with { Photos = [new byte[] { 1 }] }).Refusal!.ToldCode());
        Assert.Throws<ArgumentException>(() => archive.KeepReading(what with { PlanJson = Kept.Json(Kept.Plan(number: 3)) }));
        Assert.Empty(archive.Find(new()).Value);
    }
}
