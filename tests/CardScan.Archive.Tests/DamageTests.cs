using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive.Tests;

public sealed class DamageTests : IDisposable
{
    private readonly Scratch _scratch = new();

    private string Database => Path.Combine(_scratch.Folder, "archive.db");

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void A_sound_archive_is_called_sound()
    {
        Fill();
        ArchiveHealth health = Health();
        Assert.Empty(health.Faults);
        Assert.Empty(health.Leftovers);
        Assert.Equal((9, 3), (health.Files, health.Readings));
    }

    [Fact]
    public void A_newer_archive_is_refused_and_left_as_it_is()
    {
        Fill();
        Sql("PRAGMA user_version = 99");
        Assert.Equal("archive-newer", OpenedUntouched().ToldCode());
    }

    [Fact]
    public void Another_programs_database_is_refused_and_left_as_it_is()
    {
        Directory.CreateDirectory(_scratch.Folder);
        Sql("CREATE TABLE other (x)");
        Assert.Equal("archive-foreign", OpenedUntouched().ToldCode());
    }

    [Theory]
    [InlineData(
        "this is a text, and no database, and long enough that nobody takes it for the beginning of one; "
            + "it goes on for more than a hundred letters")]
    [InlineData("x")]
    public void A_file_that_is_no_database_is_refused_and_left_as_it_is(string content)
    {
        Directory.CreateDirectory(_scratch.Folder);
        File.WriteAllText(Database, content);
        Assert.Equal("archive-damaged", OpenedUntouched().ToldCode());
    }

    [Fact]
    public void A_database_that_was_emptied_is_not_taken_for_a_new_one()
    {
        Fill();
        File.WriteAllBytes(Database, []);
        Assert.Equal("archive-damaged", OpenedUntouched().ToldCode());
    }

    [Fact]
    public void A_corrupted_page_is_told_wherever_it_is_and_nothing_is_written()
    {
        Fill();
        byte[] sound = File.ReadAllBytes(Database);
        const int page = 4096;
        for (int at = page; at < sound.Length; at += page)
        {
            byte[] spoilt = [.. sound];
            spoilt.AsSpan(at, page).Fill(0xA5);
            File.WriteAllBytes(Database, spoilt);
            Outcome<CardArchive> opened = CardArchive.Open(_scratch.Folder, _scratch.Clock);
            if (opened.IsRefused)
            {
                Assert.Equal("archive-damaged", opened.Refusal!.ToldCode());
                continue;
            }

            using (CardArchive archive = opened.Value)
            {
                Outcome<ArchiveHealth> health = archive.Verify();
                Assert.True(health.IsRefused ? health.Refusal!.Code == "archive-damaged" : !health.Value.IsSound,
                    $"page {at / page + 1} of {sound.Length / page}");
            }

            Assert.Equal(spoilt, File.ReadAllBytes(Database));
        }
    }

    [Theory]
    [InlineData("UPDATE card SET kept_utc = 'yesterday'")]
    [InlineData("PRAGMA ignore_check_constraints = ON; UPDATE card SET process = 'melt'")]
    public void A_row_that_makes_no_sense_is_told_as_damage_and_not_as_a_fault_of_the_program(string damage)
    {
        Fill();
        Sql(damage);
        using CardArchive archive = _scratch.Open();
        Refusal?[] refusals = [archive.Find(new()).Refusal, archive.Settings(new()).Refusal];
        Assert.Equal("archive-damaged", refusals.OfType<Refusal>().First().ToldCode());
    }

    [Theory]
    [InlineData(60, "FFFFFFFF")] // the header's user version, −1 (https://www.sqlite.org/fileformat.html, 1.3)
    [InlineData(44, "00000009")] // its schema format; the highest is 4
    public void A_header_that_no_version_writes_is_told_as_damage(int at, string bytes)
    {
        Fill();
        byte[] database = File.ReadAllBytes(Database);
        Convert.FromHexString(bytes).CopyTo(database, at);
        File.WriteAllBytes(Database, database);
        Assert.Equal("archive-damaged", OpenedUntouched().ToldCode());
    }

    [Fact]
    public void A_file_that_was_changed_or_lost_is_named_and_reading_its_photo_again_brings_it_back()
    {
        Fill();
        string[] photos = [.. Directory.GetFiles(_scratch.Folder, "*.jpg", SearchOption.AllDirectories).Order()];
        File.AppendAllText(photos[0], "x");
        File.Delete(photos[1]);
        Assert.Equal(2, Health().Faults.Count);
        Assert.All(Health().Faults.Zip(photos), pair => Assert.Contains(pair.Second, pair.First, StringComparison.Ordinal));
        Fill();
        Assert.Empty(Health().Faults);
    }

    [Fact]
    public void Rows_that_went_missing_are_told_and_made_anew_by_repair()
    {
        Fill();
        Sql("DELETE FROM cell WHERE reading_id = 1; DELETE FROM card_words");
        Assert.Contains("r1", Assert.Single(Health().Faults), StringComparison.Ordinal);
        using CardArchive archive = _scratch.Open();
        Assert.False(archive.Repair().IsRefused);
        Assert.Empty(archive.Verify().Value.Faults);
        Assert.Equal(3, archive.Find(new() { Text = "birch" }).Value.Count);
    }

    [Fact]
    public void A_row_that_refers_to_nothing_is_told()
    {
        Fill();
        Sql("PRAGMA foreign_keys = OFF; DELETE FROM file WHERE extension = 'html'");
        Assert.Equal(3, Health().Faults.Count(fault => fault.Contains("refers to", StringComparison.Ordinal)));
    }

    [Fact]
    public void What_a_broken_off_write_left_is_no_fault_and_repair_sweeps_it_when_it_has_settled()
    {
        Fill();
        string stray = Path.Combine(_scratch.Folder, "files", "ab", $"{new string('a', 64)}.jpg"),
            old = Path.Combine(_scratch.Folder, ".incoming", "old.part"), young = Path.Combine(_scratch.Folder, ".incoming", "young.part");
        Directory.CreateDirectory(Path.GetDirectoryName(stray)!);
        foreach (string path in (string[])[stray, old, young]) File.WriteAllText(path, "half");
        File.SetLastWriteTimeUtc(old, _scratch.Clock.Now.UtcDateTime.AddHours(-2));
        File.SetLastWriteTimeUtc(young, _scratch.Clock.Now.UtcDateTime.AddMinutes(-2));
        ArchiveHealth health = Health();
        Assert.Empty(health.Faults);
        Assert.Equal(((string[])[stray, old, young]).Order(), health.Leftovers.Order());

        using CardArchive archive = _scratch.Open();
        Assert.False(archive.Repair().IsRefused);
        Assert.Equal((false, false, true), (File.Exists(stray), File.Exists(old), File.Exists(young)));
    }

    [Fact]
    public void A_disk_that_is_full_while_a_file_is_written_ends_in_a_refusal_and_keeps_nothing()
    {
        Fill();
        int writes = 0;
        using CardArchive archive = CardArchive.Open(_scratch.Folder, _scratch.Clock, mayMake: true, (stream, bytes) =>
        {
            if (++writes == 2) throw new IOException("No space left on device", 28);
            stream.Write(bytes);
        }).Value;
        Refusal refusal = archive.KeepReading(Kept.Reading(Kept.Plan(99), "new")).Refusal!;
        Assert.Equal("archive-full", refusal.ToldCode());
        Assert.Contains(_scratch.Folder, refusal.Seen, StringComparison.Ordinal);
        Assert.Equal(3, archive.Find(new()).Value.Count);
        Assert.Empty(Health().Leftovers);
    }

    [Fact]
    public void A_disk_that_is_full_while_the_database_is_written_ends_in_a_refusal_and_keeps_nothing()
    {
        Fill();
        using CardArchive archive = _scratch.Open();
        archive.LimitForTests();
        Outcome<KeptReading>[] kept =
            [.. Enumerable.Range(0, 400).Select(i => archive.KeepReading(Kept.Reading(Kept.Plan(i % 250), $"more {i}")))];
        Refusal refusal = kept.First(outcome => outcome.IsRefused).Refusal!;
        Assert.Equal("archive-full", refusal.ToldCode());
        Assert.Contains(_scratch.Folder, refusal.Seen, StringComparison.Ordinal);
        Assert.Empty(Health().Faults);
        Assert.Equal(3 + kept.Count(outcome => !outcome.IsRefused), Health().Readings);
    }

    [Theory]
    [InlineData("/proc/cardscan", "archive-unwritable")]
    [InlineData("/dev/null/cardscan", "archive-unwritable")]
    [InlineData("/dev/null", "archive-is-file")]
    [InlineData(" ", "archive-empty-name")]
    public void A_place_that_cannot_be_written_ends_in_a_refusal(string folder, string code)
    {
        if (OperatingSystem.IsWindows()) return; // these places are Linux's
        Assert.Equal(code, CardArchive.Open(folder, _scratch.Clock).Refusal!.ToldCode());
    }

    [Fact]
    public void A_database_that_a_link_leads_to_is_used_and_its_changes_are_seen()
    {
        if (OperatingSystem.IsWindows()) return; // links are for administrators there
        Fill();
        string elsewhere = _scratch["elsewhere.db"];
        File.Move(Database, elsewhere);
        File.CreateSymbolicLink(Database, elsewhere);
        Assert.Empty(Health().Faults);
        using CardArchive archive = _scratch.Open();
        string? before = CardArchive.State(_scratch.Folder);
        archive.KeepCard(Kept.Json(Kept.Plan(99)));
        Assert.Equal(4, archive.Find(new()).Value.Count);
        Assert.NotEqual(before, CardArchive.State(_scratch.Folder));
    }

    [Theory]
    [InlineData("")]
    [InlineData("/")]
    public void A_link_to_nothing_is_no_file_and_no_new_archive(string end)
    {
        if (OperatingSystem.IsWindows()) return; // links are for administrators there
        File.CreateSymbolicLink(_scratch["link"], _scratch["unmounted/archive"]);
        Refusal refusal = CardArchive.Open(_scratch["link"] + end, _scratch.Clock).Refusal!;
        Assert.Equal("archive-link", refusal.ToldCode());
        Assert.Contains(_scratch["unmounted/archive"], refusal.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void Looking_does_not_make_an_archive()
    {
        Assert.Equal("archive-missing", CardArchive.Open(_scratch.Folder, _scratch.Clock, mayMake: false).Refusal!.ToldCode());
        Assert.False(Directory.Exists(_scratch.Folder));
    }

    private void Fill()
    {
        using CardArchive archive = _scratch.Open();
        for (int i = 1; i <= 3; i++) archive.KeepReading(Kept.Reading(Kept.Plan(i), $"photo {i}"));
    }

    private ArchiveHealth Health()
    {
        using CardArchive archive = _scratch.Open();
        return archive.Verify().Value;
    }

    private Refusal OpenedUntouched()
    {
        byte[] before = File.ReadAllBytes(Database);
        Refusal refusal = CardArchive.Open(_scratch.Folder, _scratch.Clock).Refusal!;
        Assert.Equal(before, File.ReadAllBytes(Database));
        return refusal;
    }

    private void Sql(string sql)
    {
        using SqliteConnection connection = new($"Data Source={Database};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
