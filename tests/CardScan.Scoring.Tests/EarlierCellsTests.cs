using CardScan.Model;

namespace CardScan.Scoring.Tests;

public sealed class EarlierCellsTests
{
    private static readonly Reading Own = new SimulatedCard().Read(seed: 1);

    private static readonly Recommendation Setting =
        new() { Goal = Goal.FastestFullMark, PowerPercent = 80, SpeedMmPerMin = 700, Cell = new(1, 2), Reason = "it does" };

    [Fact]
    public void A_setting_of_an_earlier_card_gets_that_cards_cell_without_its_place_in_a_photo()
    {
        Reading earlier = new SimulatedCard { SpeedsMmPerMin = [500, 700] }.Read(seed: 2);
        earlier = earlier with
        {
            Plan = earlier.Plan with { Number = 9 },
            Cells = earlier.Cells.Select(cell => cell with { CenterPx = new(100, 200) }).ToValueList()
        };

        CellReading cell =
            EarlierCells.AddTo(Own with { Recommendations = [Setting with { Card = 9 }] }, [earlier]).Recommendations[0].EarlierCell!;

        Assert.Equal(earlier.Cells.Single(each => each.Row == 1 && each.Column == 2) with { CenterPx = null }, cell);
    }

    [Fact]
    public void A_setting_of_the_own_card_gets_none() =>
        Assert.Null(EarlierCells.AddTo(Own with { Recommendations = [Setting] }, [Own]).Recommendations[0].EarlierCell);
}
