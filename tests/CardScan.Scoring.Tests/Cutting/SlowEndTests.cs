using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Material that closes again when it gets too much.</summary>
public sealed class SlowEndTests
{
    // Drawn from a law that welds below about 200 mm/min whatever the power.
    private static readonly Reading BySpeed = CutPattern.Read([33, 42, 52, 61, 70, 79, 88, 97],
        (160, "o... .... .o.. .... o... ..o. .... oo.."),
        (190, "oooo oooo o.o. ooo. o.oo .ooo oo.o ..o."),
        (230, ".... oooo oooo oooo oooo oooo oooo oooo"),
        (280, ".... .... oooo oooo oooo oooo oooo oooo"),
        (340, ".... .... .... oo.. oooo oooo oooo oooo"),
        (420, ".... .... .... .... oo.. oo.o oo.o oooo"),
        (510, ".... .... .... .... .... .... oo.. oooo"),
        (610, ".... .... .... .... .... .... .... ...."));

    // Welds by dose: 120 mm/min at 68 % came through by luck, with a true probability of 0.15.
    private static readonly Reading SmallByDose = CutPattern.Read([34, 51, 68, 85],
        (120, ".... oooo oooo ..o."),
        (200, ".... .... ooo. oooo"),
        (340, ".... .... .... ...."),
        (570, ".... .... .... ...."));

    [Fact]
    public void The_setting_lies_inside_the_window_and_the_window_is_told()
    {
        Reading scored = CardScorer.Score(BySpeed, ScoringOptions.Default);

        Recommendation sure = scored.Recommendations.Single(one => one.Goal == Goal.SureCut);
        Assert.InRange(sure.SpeedMmPerMin, 230, 340);
        Assert.Null(sure.Unburned);
        Assert.Contains(scored.Advice, advice => advice.Code == "closes-again");
        Assert.DoesNotContain("slower costs", sure.Reason, StringComparison.Ordinal);
        Assert.True(scored.Model!.Parameters["closesAgainSpeedExponent"].Value > 3);
        Assert.True(scored.Model.Diagnostics["closesAgainLnEnergyLow"] <= scored.Model.Diagnostics["closesAgainLnEnergyHigh"]);
    }

    [Fact]
    public void Neighbours_of_a_cell_that_closed_again_are_not_stated_as_sure()
    {
        Reading scored = CardScorer.Score(SmallByDose, ScoringOptions.Default);

        Assert.Contains(scored.Advice, advice => advice.Code == "closes-again");
        Assert.DoesNotContain(scored.Recommendations, one => one.SpeedMmPerMin == 120 && one.PowerPercent >= 68 && one.Confidence >= 0.9);
    }

    [Fact]
    public void A_card_of_one_end_has_no_other()
    {
        int told = Enumerable.Range(1, 40).Count(seed => CutCard.Of(new SimulatedCut().Read(seed)).ClosesAgain);

        Assert.InRange(told, 0, 1);
    }

    [Fact]
    public void Cells_that_closed_again_do_not_move_the_fast_end()
    {
        SimulatedCut card = new() { PowerExponent = 40 };
        Reading welded = card.Read(3).WithHeld(cell => cell.Settings.SpeedMmPerMin <= 150);

        Reading scored = CardScorer.Score(welded, ScoringOptions.Default);

        Assert.Contains(scored.Advice, advice => advice.Code == "closes-again");
        foreach (BoundaryPoint point in scored.Boundary!)
            Assert.InRange(card.HalfwayPower(point.SpeedMmPerMin, isAlongY: true), point.Low - 1, point.High + 1);
        Assert.True(scored.Recommendations.Single(one => one.Goal == Goal.SureCut).SpeedMmPerMin > 150);
    }
}
