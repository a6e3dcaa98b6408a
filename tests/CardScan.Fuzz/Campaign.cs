using System.Diagnostics;
using System.Globalization;

namespace CardScan.Fuzz;

/// <summary>Batches in child processes, so that one that dies in native code costs one batch and is told.</summary>
internal static class Campaign
{
    private const int BatchSize = 200;
    private static readonly TimeSpan LongestSilence = TimeSpan.FromSeconds(60);

    /// <summary>Runs until the time is up.</summary>
    /// <returns>0 where nothing was found.</returns>
    public static int Run(TimeSpan time, int seed, string[] targets, TextWriter output)
    {
        Stopwatch watch = Stopwatch.StartNew();
        int findings = 0, tried = 0;
        for (int round = 0; round == 0 || watch.Elapsed < time; round++)
        {
            foreach (string target in targets)
            {
                (int done, int found) = RunBatch(target, seed, round * BatchSize, BatchSize, output);
                (tried, findings) = (tried + done, findings + found);
                if (watch.Elapsed >= time) break;
            }
        }

        output.WriteLine($"{tried} inputs, {findings} findings, seed {seed}, {watch.Elapsed.TotalMinutes:F1} minutes");
        return findings == 0 ? 0 : Batch.Found;
    }

    /// <summary>One batch in a child process, and the rest of it in another where one died.</summary>
    public static (int Tried, int Findings) RunBatch(string target, int seed, int from, int count, TextWriter output)
    {
        int next = from, findings = 0;
        while (next < from + count)
        {
            using Child child = new(target, seed, next, from + count - next);
            (int last, List<(int Number, string What)> found) = child.Run(LongestSilence);
            findings += found.Count;
            foreach ((int number, string what) in found) Keep(target, seed, number, what, output);
            next = Math.Max(last, next) + 1;
        }

        return (count, findings);
    }

    private static void Keep(string target, int seed, int number, string what, TextWriter output)
    {
        string folder = Directory.CreateDirectory(Path.Combine(Path.GetTempPath(), "cardscan-fuzz")).FullName;
        string file = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"{target}-{seed}-{number}.bin"));
        using ITarget made = Targets.Make(target);
        File.WriteAllBytes(file, Batch.Input(made, seed, number));
        output.WriteLine($"{target} {number}: {what}\n  kept as {file}");
    }

    private sealed class Child : IDisposable
    {
        private readonly Process _process;

        public Child(string target, int seed, int from, int count)
        {
            string[] arguments =
            [
                typeof(Child).Assembly.Location,
                "child",
                target,
                .. new[] { seed, from, count }.Select(number => number.ToString(CultureInfo.InvariantCulture))
            ];
            _process = Process.Start(new ProcessStartInfo("dotnet", arguments)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                UseShellExecute = false
            })!;
        }

        public (int Last, List<(int Number, string What)> Found) Run(TimeSpan longestSilence)
        {
            List<(int, string)> found = [];
            int last = -1;
            Task<string> errors = _process.StandardError.ReadToEndAsync();
            while (true)
            {
                Task<string?> line = _process.StandardOutput.ReadLineAsync();
                if (!line.Wait(longestSilence))
                {
                    _process.Kill(entireProcessTree: true);
                    found.Add((last, $"no answer within {longestSilence.TotalSeconds:F0} s"));
                    return (last, found);
                }

                if (line.Result is not { } text) break;
                string[] words = text.Split(' ', 3);
                if (words[0] == "try") last = int.Parse(words[1], CultureInfo.InvariantCulture);
                if (words[0] == "found") found.Add((int.Parse(words[1], CultureInfo.InvariantCulture), words[2]));
            }

            _process.WaitForExit();
            if (_process.ExitCode is 0 or Batch.Found) return (int.MaxValue - 1, found);
            found.Add((last, $"the process died (exit code {_process.ExitCode}): {errors.Result}"));
            return (last, found);
        }

        public void Dispose() => _process.Dispose();
    }
}
