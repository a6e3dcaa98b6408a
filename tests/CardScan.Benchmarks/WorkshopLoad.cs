using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Benchmarks;

/// <summary>Fifty who keep readings and two hundred who look, on one archive that <see cref="WorkshopFill"/> has filled.</summary>
internal static class WorkshopLoad
{
    private const int Writers = 50, Readers = 200, UsualMost = 50;

    /// <summary>People look at what they got before they ask again.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(20);

    /// <summary>Runs for some minutes and counts what is there afterwards.</summary>
    public static void Run(string address, double minutes)
    {
        ArchivePlace place = new(address, TimeProvider.System);
        ReadingToKeep[] samples = [.. WorkshopFill.Samples()];
        ConcurrentBag<double> keeping = [], looking = [];
        ConcurrentBag<long> readings = [];
        ConcurrentDictionary<string, int> refused = new();
        long before = Count(address, "reading"), begun = Stopwatch.GetTimestamp();
        Thread[] threads =
        [
            .. Enumerable.Range(0, Writers).Select(i => new Thread(() => Repeat(i, n => Keep(i, n)))),
            .. Enumerable.Range(0, Readers).Select(i => new Thread(() => Repeat(i, n => Look(i + n)))),
        ];
        foreach (Thread thread in threads) thread.Start();
        foreach (Thread thread in threads) thread.Join();

        long rows = Count(address, "reading") - before;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  {minutes} min: told as kept {readings.Count:N0}, rows {rows:N0}, twice {readings.Count - readings.Distinct().Count()}"));
        Tell("keep a reading", keeping);
        Tell("look", looking);
        foreach ((string code, int count) in refused) Console.WriteLine($"  refused {count} times: {code}");

        void Repeat(int i, Action<int> act)
        {
            Thread.Sleep(Pause * (i / (double)Readers));
            for (int n = 0; Stopwatch.GetElapsedTime(begun).TotalMinutes < minutes; n++)
            {
                act(n);
                Thread.Sleep(Pause);
            }
        }

        void Keep(int writer, int n)
        {
            ReadingToKeep sample = samples[(writer + n) % samples.Length];
            long start = Stopwatch.GetTimestamp();
            Plan plan = sample.Reading.Plan with { Title = $"writer {writer}" };
            byte[] json = Encoding.UTF8.GetBytes(CardJson.Write(plan));
            Outcome<KeptReading> kept = place.Use(archive => archive.KeepReading(new()
            {
                PlanJson = json,
                Reading = sample.Reading with { Plan = plan, PlanSha256 = CardJson.Sha256(json), Photos = [PhotoOf(writer, n)] },
            }));
            keeping.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            if (kept.IsRefused) refused.AddOrUpdate($"{kept.Refusal}", 1, (_, count) => count + 1);
            else readings.Add(kept.Value.Id);
        }

        void Look(int i)
        {
            long start = Stopwatch.GetTimestamp();
            Refusal? refusal = (i % 3) switch
            {
                0 => place.Find(new() { Most = UsualMost }).Refusal,
                1 => place.Find(new() { Material = $"no {100 + i % 200}", Most = UsualMost }).Refusal,
                _ => SettingsBook.Of(
                    place, new() { Material = $"no {100 + i % 200}", Machine = $"bench {i % 8}", Most = UsualMost }).Refusal,
            };
            looking.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            if (refusal is not null) refused.AddOrUpdate($"{refusal}", 1, (_, count) => count + 1);
        }
    }

    private static PhotoRecord PhotoOf(int writer, int n)
    {
        string name = $"{writer} {n} {Environment.ProcessId}";
        return new()
        {
            File = $"{name}.jpg", Sha256 = CardJson.Sha256(Encoding.UTF8.GetBytes(name)), Light = Light.Front,
            WidthPx = 100, HeightPx = 100,
        };
    }

    private static long Count(string address, string table)
    {
        using PostgresDatabase database = PostgresDatabase.Open(PostgresAddress.Of(address).Value, mayMake: false).Value;
        return database.Count($"SELECT count(*) FROM {table}");
    }

    private static void Tell(string what, ConcurrentBag<double> milliseconds)
    {
        double median = WorkshopRun.Quantile([.. milliseconds], 0.5), p95 = WorkshopRun.Quantile([.. milliseconds], 0.95);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"  {what,-16} {milliseconds.Count,7:N0} times   p50 {median,8:F1} ms   p95 {p95,8:F1} ms"));
    }
}
