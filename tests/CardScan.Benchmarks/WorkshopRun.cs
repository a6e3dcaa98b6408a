using System.Diagnostics;
using System.Globalization;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;
using Npgsql;

namespace CardScan.Benchmarks;

/// <summary>What commands ask of an archive that <see cref="WorkshopFill"/> has filled: times, and the plans of the queries.</summary>
internal static class WorkshopRun
{
    private const int Rounds = 200, UsualMost = 50;

    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20);

    /// <summary>The i-th question of each kind.</summary>
    private static readonly (string What, Func<ArchivePlace, int, int> Ask)[] Questions =
    [
        ("list, newest 50", (place, _) => Found(place, new())),
        ("find by material", (place, i) => Found(place, new() { Material = $"no {100 + i % 200}" })),
        ("find by two words", (place, i) => Found(place, new() { Text = $"birch {i * 10 % 300}" })),
        ("find by a photo's name", (place, i) => Found(place, new() { Text = $"IMG_{500 + i}.jpg" })),
        ("find by a word of every tenth card", (place, _) => Found(place, new() { Text = "walnut" })),
        ("find by a word of every card", (place, _) => Found(place, new() { Text = "job" })),
        ("find by batch and day", (place, i) => Found(place, new() { Batch = $"B-{i % 300}-3", From = Day(i) })),
        ("find by number", (place, i) => Found(place, new() { Number = i % 250 })),
        ("find by machine and thickness", (place, i) => Found(place, new() { Machine = $"bench {i % 8}", ThicknessMm = 3 })),
        ("find by tag", (place, i) => Found(place, new() { Tag = $"tag{i % 50}" })),
        ("find by day", (place, i) => Found(place, new() { From = Day(i), Before = Day(i).AddDays(1) })),
        ("settings of a material", (place, i) => Book(place, new() { Material = $"no {100 + i % 200}" })),
        ("settings of a material on a machine", 
            (place, i) => Book(place, new() { Material = $"no {100 + i % 200}", Machine = $"bench {i % 8}" })),
        ("settings of a word of thirty materials", (place, _) => Book(place, new() { Text = "walnut" })),
        ("settings of everything", (place, _) => Book(place, new())),
        ("open the archive", (place, _) => Closed(CardArchive.Open(place.Name, place.Clock, mayMake: false).Value)),
    ];

    /// <summary>Times.</summary>
    public static void Ask(string address, string part)
    {
        ArchivePlace place = new(address, TimeProvider.System);
        foreach ((string what, Func<ArchivePlace, int, int> ask) in
            Questions.Where(each => each.What.Contains(part, StringComparison.Ordinal)))
        {
            int found = ask(place, Rounds);
            List<double> milliseconds = [];
            long begun = Stopwatch.GetTimestamp();
            for (int i = 0; i < Rounds && Stopwatch.GetElapsedTime(begun) < Longest; i++)
            {
                long asked = Stopwatch.GetTimestamp();
                ask(place, i);
                milliseconds.Add(Stopwatch.GetElapsedTime(asked).TotalMilliseconds);
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {what,-38} p50 {Quantile(milliseconds, 0.5),9:F1} ms   p95 {Quantile(milliseconds, 0.95),9:F1} ms")
                + $"   ({milliseconds.Count} times; {found} found)");
        }
    }

    /// <summary>The plans of every statement that a question makes, as the server ran it.</summary>
    public static void Plans(string address)
    {
        using PostgresDatabase database = PostgresDatabase.Open(PostgresAddress.Of(address).Value, mayMake: false).Value;
        ((NpgsqlConnection)database.Connection).Notice += (_, told) => Console.WriteLine(told.Notice.MessageText);
        database.Execute("LOAD 'auto_explain'");
        database.Execute(
            """
            SET auto_explain.log_min_duration = 0; SET auto_explain.log_analyze = on; SET auto_explain.log_buffers = on;
            SET auto_explain.log_timing = on; SET client_min_messages = log
            """);
        foreach ((string what, Action<PostgresDatabase> ask) in Statements)
        {
            ask(database); // once in vain: the second has everything in memory, as the times have
            Console.WriteLine($"\n== {what}");
            ask(database);
        }
    }

    private static readonly (string What, Action<PostgresDatabase> Ask)[] Statements =
    [
        ("list, newest 50", database => Found(database, new())),
        ("find by material", database => Found(database, new() { Material = "no 117" })),
        ("find by two words", database => Found(database, new() { Text = "birch 170" })),
        ("find by a word of every card", database => Found(database, new() { Text = "job" })),
        ("find by batch and day", database => Found(database, new() { Batch = "B-17-3", From = Day(17) })),
        ("find by machine and thickness", database => Found(database, new() { Machine = "bench 1", ThicknessMm = 3 })),
        ("find by day", database => Found(database, new() { From = Day(3), Before = Day(2) })),
        ("find by a photo", database => Found(database, new() { Text = "IMG_500.jpg" })),
        ("settings of all", database => _ = new SettingFinder(database).Find(new() { Most = 51 }).Count),
        ("find by tag", database => Found(database, new() { Tag = "tag10" })),
        ("settings of a material", database => _ = new SettingFinder(database).Find(new() { Material = "no 117" }).Count),
    ];

    private static void Found(PostgresDatabase database, ArchiveQuery query)
    {
        CardFinder finder = new(database);
        finder.Find(query with { Most = UsualMost });
        finder.Count(query, long.MaxValue);
    }

    private static int Found(ArchivePlace place, ArchiveQuery query) => (int)place.Find(query with { Most = UsualMost }).Value.Count;

    private static int Book(ArchivePlace place, ArchiveQuery query) =>
        SettingsBook.Of(place, query with { Most = UsualMost }).Value.Settings.Count;

    private static int Closed(CardArchive archive)
    {
        archive.Dispose();
        return 1;
    }

    private static DateTimeOffset Day(int i) => new DateTimeOffset(2025, 12, 1, 0, 0, 0, TimeSpan.Zero).AddDays(-i);

    internal static double Quantile(List<double> values, double share)
    {
        double[] sorted = [.. values.Order()];
        return sorted[Math.Min(sorted.Length - 1, (int)Math.Ceiling(share * sorted.Length) - 1)];
    }
}
