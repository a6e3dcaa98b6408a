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
    /// The delays reach from before the folder is there to some dozens of readings.
    /// </summary>
    [Fact]
    public void Whenever_a_writer_is_killed_the_archive_is_sound_and_holds_all_that_was_reported_as_kept()
    {
        Random chance = new(20260301);
        for (int round = 0; round < 25; round++)
        {
            string folder = _scratch[$"archive {round % 5}"]; // every fifth round goes on with an archive that saw kills
            List<string> told = RunAndKill(folder, $"round {round}", chance.Next(60, 900));
            if (!File.Exists(Path.Combine(folder, "archive.db")))
            {
                Assert.Empty(told);
                continue;
            }

            using CardArchive archive = CardArchive.Open(folder, TimeProvider.System).Value;
            ArchiveHealth health = archive.Verify().Value;
            Assert.True(health.IsSound, $"round {round}: {string.Join("; ", health.Faults)}");
            foreach (string name in told)
            {
                ArchiveSubject subject = archive.Resolve(name).Value;
                ReadingEntry entry = archive.ReadingEntry(subject.ReadingId!.Value).Value;
                Assert.True(File.Exists(entry.Photos[0].Path) && File.Exists(entry.Photos[0].AnnotatedPath) && File.Exists(entry.ReportPath), name);
                Assert.False(archive.Reading(entry.Id).IsRefused);
            }

            Assert.All(Directory.EnumerateFiles(Path.Combine(folder, "files"), "*", SearchOption.AllDirectories), IsWhole);
        }
    }

    [Fact]
    public async Task Two_processes_that_write_at_once_both_succeed()
    {
        const int count = 40;
        using Process one = Start(_scratch.Folder, "one", $"{count}"), two = Start(_scratch.Folder, "two", $"{count}");
        Task<string> errors = one.StandardError.ReadToEndAsync(), otherErrors = two.StandardError.ReadToEndAsync();
        await Task.WhenAll(one.StandardOutput.ReadToEndAsync(), two.StandardOutput.ReadToEndAsync(), one.WaitForExitAsync(), two.WaitForExitAsync());
        Assert.Equal(("", ""), (await errors, await otherErrors));
        Assert.Equal((0, 0), (one.ExitCode, two.ExitCode));

        using CardArchive archive = _scratch.Open();
        ArchiveHealth health = archive.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.Equal(2 * count, health.Readings);
        Assert.Empty(health.Leftovers);
    }

    private static List<string> RunAndKill(string folder, string name, int milliseconds)
    {
        using Process process = Start(folder, name);
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Thread.Sleep(milliseconds);
        process.Kill(); // SIGKILL
        process.WaitForExit();
        // A line without its end was not reported.
        string text = output.GetAwaiter().GetResult();
        return [.. text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    private static Process Start(params string[] args) => Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "CardScan.Archive.Writer.dll"), .. args])
    {
        RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false,
    })!;

    /// <summary>A file in view has the content that its name promises.</summary>
    private static void IsWhole(string path) => Assert.Equal(Path.GetFileNameWithoutExtension(path), CardJson.Sha256(File.ReadAllBytes(path)));
}
