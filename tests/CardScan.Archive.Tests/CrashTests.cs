using System.Diagnostics;
using CardScan.Model;
using Process = System.Diagnostics.Process;

namespace CardScan.Archive.Tests;

public sealed class CrashTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    /// <summary>
    /// Kills a process with SIGKILL at random moments while it makes an archive and keeps one reading after the other.
    /// The moments reach from when the folder is made to some readings later.
    /// </summary>
    [Fact]
    public void Whenever_a_writer_is_killed_the_archive_is_sound_and_holds_all_that_was_reported_as_kept()
    {
        Random chance = new(20260301);
        int kept = 0;
        for (int round = 0; round < Scratch.Of(25); round++)
        {
            string name = $"archive {round % 5}"; // every fifth round goes on with an archive that saw kills
            List<string> told = RunAndKill(
                name, $"round {round}", afterLines: chance.Next(0, 8), milliseconds: chance.Next(0, 60));
            if (!_scratch.IsMade(name))
            {
                Assert.Empty(told);
                continue;
            }

            using CardArchive archive = CardArchive.Open(_scratch.AddressOf(name), TimeProvider.System).Value;
            FileStore store = _scratch.StoreOf(name);
            ArchiveHealth health = archive.Verify().Value;
            Assert.True(health.IsSound, $"round {round}: {string.Join("; ", health.Faults)}");
            foreach (string reading in told)
            {
                ArchiveSubject subject = archive.Resolve(reading).Value;
                ReadingEntry entry = archive.ReadingEntry(subject.ReadingId!.Value).Value;
                Assert.All(
                    [entry.Photos[0].Path, entry.Photos[0].AnnotatedPath, entry.ReportPath],
                    path => Assert.True(store.Bytes(path!) is not null, reading));
                Assert.False(archive.Reading(entry.Id).IsRefused);
            }

            // What is in view is whole, whether or not a row knows it.
            Assert.All(store.Standing(), file => Assert.Equal(file.Sha256, CardJson.Sha256(store.Bytes(file.Path)!)));
            kept += told.Count;
        }

        Assert.True(kept > Scratch.Of(40), $"the kills came before there was anything to lose: {kept} readings in all");
    }

    [Fact]
    public async Task Two_processes_that_write_at_once_both_succeed()
    {
        int count = Scratch.Of(40);
        using Process one = Start(_scratch.Address, "one", $"{count}"), two = Start(_scratch.Address, "two", $"{count}");
        Task<string> errors = one.StandardError.ReadToEndAsync(), otherErrors = two.StandardError.ReadToEndAsync();
        await Task.WhenAll(one.StandardOutput.ReadToEndAsync(), two.StandardOutput.ReadToEndAsync(), one.WaitForExitAsync(),
            two.WaitForExitAsync());
        Assert.Equal(("", ""), (await errors, await otherErrors));
        Assert.Equal((0, 0), (one.ExitCode, two.ExitCode));

        using CardArchive archive = _scratch.Open();
        ArchiveHealth health = archive.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.Equal(2 * count, health.Readings);
        Assert.Empty(health.Leftovers);
    }

    /// <summary>An archive that is being made by another writer at this moment is waited for, not taken for a foreign file.</summary>
    [Fact]
    public void An_archive_that_several_open_for_the_first_time_at_once_opens_for_each()
    {
        const int writers = 4;
        for (int round = 0; round < Scratch.Of(12); round++)
        {
            string address = _scratch.AddressOf($"new {round}");
            using Barrier start = new(writers);
            Outcome<KeptReading>[] kept = new Outcome<KeptReading>[writers];
            Thread[] threads = [.. Enumerable.Range(0, writers).Select(writer => new Thread(() =>
            {
                start.SignalAndWait();
                Outcome<CardArchive> opened = CardArchive.Open(address, TimeProvider.System);
                if (opened.IsRefused)
                {
                    kept[writer] = opened.Refusal!;
                    return;
                }

                using CardArchive archive = opened.Value;
                kept[writer] = archive.KeepReading(Kept.Reading(Kept.Plan(number: writer), $"{round} {writer}"));
            }))];
            foreach (Thread thread in threads) thread.Start();
            foreach (Thread thread in threads) thread.Join();
            Assert.All(kept, outcome => Assert.False(outcome.IsRefused, outcome.IsRefused ? $"round {round}: {outcome.Refusal}" : ""));
        }
    }

    /// <summary>Lets it keep some readings, or get as far as making its folder, and kills it a random while later.</summary>
    private List<string> RunAndKill(string archive, string name, int afterLines, int milliseconds)
    {
        using Process process = Start(_scratch.AddressOf(archive), name);
        string text = "";
        for (int i = 0; i < afterLines; i++) text += process.StandardOutput.ReadLine() + "\n";
        while (afterLines == 0 && !_scratch.IsBegun(archive) && !process.HasExited) Thread.Sleep(1);
        Thread.Sleep(milliseconds);
        process.Kill(); // SIGKILL
        process.WaitForExit();
        // A line without its end was not reported.
        text += process.StandardOutput.ReadToEnd();
        return [.. text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    private static Process Start(params string[] args) =>
        Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "CardScan.Archive.Writer.dll"), .. args])
        {
            RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false,
        })!;
}
