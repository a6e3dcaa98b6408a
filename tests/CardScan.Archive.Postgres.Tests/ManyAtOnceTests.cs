using System.Diagnostics;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>A whole workshop at once on one server: nothing is lost, nothing is there twice, no number is given twice.</summary>
public sealed class ManyAtOnceTests : IDisposable
{
    private const int Writers = 50, Readers = 200, CardsPerWriter = 3, QuestionsPerReader = 4;

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    /// <summary>A process holds twenty connections: the others wait for one, and none is refused.</summary>
    [Fact]
    public void Fifty_who_keep_cards_and_two_hundred_who_look_do_not_lose_a_reading_and_get_no_number_twice()
    {
        _scratch.Open().Dispose();
        List<(KeptCard Card, KeptReading Reading)> told = [];
        List<string> refused = [];
        Run([
            .. Enumerable.Range(0, Writers).Select(writer => (Action)(() => Write(writer))),
            .. Enumerable.Range(0, Readers).Select(reader => (Action)(() => Look(reader)))]);

        Assert.Empty(refused);
        Assert.Equal(Writers * CardsPerWriter, told.Count);
        Assert.Equal(told.Count, told.Select(each => each.Card.Number).Distinct().Count());
        Assert.Equal(told.Count, told.Select(each => each.Card.Id).Distinct().Count());
        Assert.Equal(told.Count, told.Select(each => each.Reading.Id).Distinct().Count());
        using CardArchive archive = _scratch.Open();
        Assert.Equal(told.Count, archive.Count(new()).Value);
        Assert.All(told, each => Assert.Equal(
            (each.Card.Number, each.Card.Id),
            (archive.Reading(each.Reading.Id).Value.Plan.Number, archive.ReadingEntry(each.Reading.Id).Value.CardId)));
        ArchiveHealth health = archive.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.Empty(health.Leftovers);
        Assert.Equal((told.Count, 3 * told.Count), (health.Readings, health.Files));

        void Write(int writer)
        {
            for (int i = 0; i < CardsPerWriter; i++)
            {
                byte[] json = [];
                Outcome<KeptCard> card = With(archive => archive.KeepNextCard(number => json = Kept.Json(Plan(number, writer))));
                Outcome<KeptReading> reading = card.IsRefused
                    ? card.Refusal!
                    : With(archive => archive.KeepReading(Kept.Reading(Plan(card.Value.Number, writer), $"{writer} {i}", writer / 100.0)));
                lock (told)
                {
                    if (reading.IsRefused) refused.Add($"{reading.Refusal}");
                    else told.Add((card.Value, reading.Value));
                }
            }
        }

        void Look(int reader)
        {
            for (int i = 0; i < QuestionsPerReader; i++)
            {
                Outcome<int> looked = With<int>(archive => i % 2 == 0
                    ? archive.Find(new() { Text = $"writer {reader % Writers}", Most = 20 }) is { IsRefused: false } cards
                        ? cards.Value.Count
                        : archive.Find(new()).Refusal!
                    : archive.Settings(new() { Most = 20 }) is { IsRefused: false } settings
                        ? settings.Value.Count
                        : archive.Settings(new()).Refusal!);
                if (!looked.IsRefused) continue;
                lock (told) refused.Add($"{looked.Refusal}");
            }
        }
    }

    /// <summary>The network breaks again and again in the middle of everything.</summary>
    [Fact]
    public void What_was_said_to_be_kept_is_there_however_often_the_connection_is_cut()
    {
        _scratch.Open().Dispose();
        using CutConnection way = new(PostgresServer.Shared.Port);
        string address = _scratch.Address.Replace($":{PostgresServer.Shared.Port}/", $":{way.Port}/", StringComparison.Ordinal);
        List<KeptReading> told = [];
        List<string> refused = [];
        Run([.. Enumerable.Range(0, 4).Select(writer => (Action)(() => Write(writer)))]);

        Assert.InRange(way.Cuts, 10, int.MaxValue);
        Assert.All(refused, code => Assert.Equal("archive-unreachable", code));
        Assert.NotEmpty(told);
        using CardArchive after = _scratch.Open();
        Assert.All(told, each => Assert.Equal(each.CardId, after.ReadingEntry(each.Id).Value.CardId));
        // What was not said to be kept may be there, whole, where only the answer was lost.
        ArchiveHealth health = after.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.InRange(health.Readings, told.Count, told.Count + refused.Count);

        void Write(int writer)
        {
            for (int i = 0; i < 25; i++)
            {
                ReadingToKeep reading = Kept.Reading(Plan(50 * writer + i, writer), $"{writer} {i}");
                Outcome<CardArchive> opened = CardArchive.Open(address, _scratch.Clock);
                using CardArchive? archive = opened.IsRefused ? null : opened.Value;
                Outcome<KeptReading> kept = archive?.KeepReading(reading) ?? opened.Refusal!;
                lock (told)
                {
                    if (kept.IsRefused) refused.Add(kept.Refusal!.Code);
                    else told.Add(kept.Value);
                }
            }
        }
    }

    /// <summary>A user who may not connect once more is told what one is whom a full server does not let in.</summary>
    [Fact]
    public void A_server_that_has_no_connection_left_says_so()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepCard(Kept.Json(Kept.Plan(5)));
        PostgresServer.Shared.Sql("postgres", "CREATE ROLE crowd LOGIN CONNECTION LIMIT 0");
        Refusal refusal = CardArchive.Open(
            _scratch.Address.Replace(PostgresServer.Owner, "crowd", StringComparison.Ordinal), _scratch.Clock).Refusal!;
        Assert.Equal("archive-crowded", refusal.ToldCode());
    }

    /// <summary>However many cards there are, the same statements ask for what belongs to them.</summary>
    [Fact]
    public void The_number_of_statements_does_not_grow_with_the_cards_that_are_found()
    {
        using CardArchive archive = _scratch.Open();
        int few = Keep(1, 2), many = Keep(3, 40);
        Assert.True(few > 0);
        Assert.Equal(few, many);

        int Keep(int first, int last)
        {
            for (int number = first; number <= last; number++)
                archive.KeepReading(Kept.Reading(Kept.Plan(number, $"wood {number % 7}"), $"photo {number}"));
            Assert.Equal(last, archive.Find(new()).Value.Count);
            return Statements(() => archive.Find(new())) + Statements(() => archive.Settings(new() { Most = 100 }));
        }
    }

    /// <summary>How many statements work sends to the server.</summary>
    private static int Statements(Action work)
    {
        int count = 0, here = Environment.CurrentManagedThreadId;
        using ActivityListener listener = new()
        {
            ShouldListenTo = source => source.Name == "Npgsql",
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
            // Other tests send theirs meanwhile, each in its own thread.
            ActivityStopped = _ => count += Environment.CurrentManagedThreadId == here ? 1 : 0,
        };
        ActivitySource.AddActivityListener(listener);
        work();
        return count;
    }

    private Outcome<T> With<T>(Func<CardArchive, Outcome<T>> work)
    {
        Outcome<CardArchive> opened = CardArchive.Open(_scratch.Address, TimeProvider.System);
        if (opened.IsRefused) return opened.Refusal!;
        using CardArchive archive = opened.Value;
        return work(archive);
    }

    private static Plan Plan(int number, int writer) => Kept.Plan(number, title: $"writer {writer} card {number}");

    /// <summary>Each in a thread of its own, and all at once.</summary>
    private static void Run(Action[] works)
    {
        using Barrier start = new(works.Length);
        Thread[] threads = [.. works.Select(work => new Thread(() =>
        {
            start.SignalAndWait();
            work();
        }))];
        foreach (Thread thread in threads) thread.Start();
        foreach (Thread thread in threads) thread.Join();
    }
}
