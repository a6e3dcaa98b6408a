using CardScan.Model;

namespace CardScan.Workflow.Tests;

public sealed class CardsOfRunTests
{
    private static readonly Reading[] Readings =
        [.. Enumerable.Range(0, 3).Select(number => BurnedCards.Reading(BurnedCards.Plan(number)))];

    [Fact]
    public async Task A_card_sees_those_before_it_newest_first_and_none_after_it_whichever_was_measured_first()
    {
        CardsOfRun run = new(3);
        Task<IReadOnlyList<Reading>> third = Task.Run(() => run.Before(2, Readings[2]));
        Task<IReadOnlyList<Reading>> second = Task.Run(() => run.Before(1, Readings[1]));
        IReadOnlyList<Reading> first = await Task.Run(() => run.Before(0, Readings[0]));
        Assert.Empty(first);
        Assert.Equal([Readings[0]], await second);
        Assert.Equal([Readings[1], Readings[0]], await third);
    }

    [Fact]
    public async Task A_card_that_could_not_be_measured_holds_nobody_up()
    {
        CardsOfRun run = new(2);
        Task<IReadOnlyList<Reading>> second = Task.Run(() => run.Before(1, Readings[1]));
        run.Leave(0);
        Assert.Empty(await second);
    }

    [Fact]
    public void Of_many_cards_the_last_ones_are_held()
    {
        CardsOfRun run = new(1000);
        IReadOnlyList<Reading> seen = [];
        for (int place = 0; place < 1000; place++) seen = run.Before(place, Readings[0]);
        Assert.InRange(seen.Count, Company.MostCards, 999 / 2);
    }
}
