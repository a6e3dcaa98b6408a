using System.Diagnostics;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Benchmarks;

/// <summary>Time and peak memory of what looks at a whole archive, by the number of its readings; each in a process of its own.</summary>
internal static class ArchiveMemory
{
    /// <summary>First argument of the process that does one thing.</summary>
    public const string Child = "archive-memory-child";

    private static readonly string[] Steps =
        ["export out.json", "export out.csv", "export out.zip", "import out.zip", "verify", "settings"];

    /// <summary>Fills one archive to each size in turn.</summary>
    /// <param name="sizes">Numbers of readings, growing.</param>
    public static void Run(int[] sizes)
    {
        BenchmarkPhoto photo = BenchmarkPhoto.Given();
        Reading reading = Stages.Score(new Stages(photo).Read());
        string folder = Directory.CreateTempSubdirectory("cardscan-benchmark-").FullName;
        try
        {
            int filled = 0;
            foreach (int size in sizes)
            {
                using (CardArchive archive = CardArchive.Open(Path.Combine(folder, "archive"), TimeProvider.System).Value)
                    ArchiveRun.Fill(archive, reading, filled, size, hasFiles: true);
                filled = size;
                foreach (string step in Steps) Measure(size, step, folder);
                foreach (string file in Directory.GetFiles(folder)) File.Delete(file);
                Directory.Delete(Path.Combine(folder, "other"), recursive: true);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>One thing, and a line of figures.</summary>
    public static void RunChild(string step, string folder)
    {
        long begun = Stopwatch.GetTimestamp();
        ArchivePlace place = new(Path.Combine(folder, "archive"), TimeProvider.System);
        string[] words = step.Split(' ');
        Refusal? refusal = words switch
        {
            ["export", var file] => ExportArchive.Run(place, new(), Path.Combine(folder, file)).Refusal,
            ["import", var file] => (place with { Name = Path.Combine(folder, "other") }).Import(Path.Combine(folder, file)).Refusal,
            ["verify"] => place.Verify().Refusal,
            _ => SettingsBook.Of(place, new()).Refusal,
        };
        if (refusal is not null) throw new InvalidOperationException(refusal.ToString());
        using System.Diagnostics.Process self = System.Diagnostics.Process.GetCurrentProcess();
        Console.WriteLine($"{Stopwatch.GetElapsedTime(begun).TotalSeconds,8:F1} s {self.PeakWorkingSet64 / 1e6,8:F0} MB");
    }

    private static void Measure(int size, string step, string folder)
    {
        ProcessStartInfo start = new(Environment.ProcessPath!) { RedirectStandardOutput = true, UseShellExecute = false };
        if (Path.GetFileNameWithoutExtension(start.FileName) == "dotnet") start.ArgumentList.Add(typeof(ArchiveMemory).Assembly.Location);
        foreach (string argument in (string[])[Child, step, folder]) start.ArgumentList.Add(argument);
        using System.Diagnostics.Process child = System.Diagnostics.Process.Start(start)!;
        Console.Write($"{size,8:N0} readings  {step,-16} {child.StandardOutput.ReadToEnd()}");
    }
}
