using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>From the name of a card to the reading that was scored with others.</summary>
public sealed class CardsAddUpTests : IDisposable
{
    private readonly BurnedCards _cards = new();

    public void Dispose() => _cards.Dispose();

    [Fact]
    public void A_card_of_the_archive_is_scored_with_the_one_before_it_and_alone_as_if_that_were_not_there()
    {
        DateTime first = _cards.Clock.Now.AddDays(1).UtcDateTime;
        _cards.Keep(BurnedCards.Large(17, [1000, 1500, 2200, 3300, 5000]));
        Reading own = BurnedCards.Large(19, [2000, 2400, 2800, 3200, 3600]);
        string name = _cards.Keep(own);

        Reading joined = ScoreReading.Run(new() { Readings = [name], Archive = _cards.Archive }).Value.Reading;
        JoinedCard card = Assert.Single(joined.Joined!);
        Assert.Equal((17, first, 25), (card.Number, card.FirstReadUtc, card.CellsUsed));
        Assert.NotEmpty(joined.Recommendations);
        Assert.All(joined.Recommendations, setting => Assert.NotNull(joined.CellOf(setting)));
        Assert.All(joined.Recommendations, setting => Assert.Equal(setting.Card is not null, setting.EarlierCell is not null));

        Reading alone = ScoreReading.Run(new() { Readings = [name], Archive = _cards.Archive, IsAlone = true }).Value.Reading;
        Assert.Null(alone.Joined);
        Assert.Equal(ScoreReading.Run(new() { Readings = [_cards.Write("19.json", own)] }).Value.Reading, alone);
    }

    [Fact]
    public void Photos_of_two_cards_in_one_run_are_scored_together_the_later_one_with_the_one_before_it()
    {
        foreach (int number in (int[])[17, 18]) _cards.Draw(number);
        ReadRequest request =
            new() { Photos = [_cards["17.png"], _cards["18.png"]], Archive = _cards.Archive, OutputFolder = _cards["out"] };

        ValueList<ReadResult> cards = ReadCards.Run(request).Value.Cards;

        Assert.Equal([17, 18], cards.Select(card => card.Reading.Plan.Number));
        Assert.Empty(cards.SelectMany(card => card.Doubts));
        Assert.Null(cards[0].Reading.Joined);
        JoinedCard joined = Assert.Single(cards[1].Reading.Joined!);
        // The archive would know the day: it came from the run itself, whether that was kept by then or not.
        Assert.Equal((17, null), (joined.Number, joined.FirstReadUtc));
        Assert.All(ReadCards.Run(request with { IsAlone = true }).Value.Cards, card => Assert.Null(card.Reading.Joined));
    }
}
