using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

public sealed class SettingTransferTests
{
    private static readonly Reading Card = new SimulatedCard().Read(seed: 1);

    [Fact]
    public void A_setting_of_an_earlier_card_has_that_cards_passes_and_not_those_of_the_cell_at_its_place()
    {
        CellReading own = Card.Cells.Single(cell => cell is { Row: 1, Column: 2 });
        Recommendation setting =
            new() { Goal = Goal.FastestFullMark, PowerPercent = 80, SpeedMmPerMin = 1500, Cell = new(1, 2), Reason = "r" };
        Recommendation earlier = setting with { Card = 9, EarlierCell = own with { Settings = own.Settings with { Passes = 3 } } };

        Assert.Equal(new CardPasses(1, false), SettingTransfer.PassesOf(setting, Card, Card));
        Assert.Equal(new CardPasses(3, true), SettingTransfer.PassesOf(earlier, Card, Card));
    }
}
