using CardScan.Model;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Cards without a held side: the limit lies below them, nobody knows how far.</summary>
public sealed class AllThroughTests
{
    [Theory]
    [InlineData(12)]
    [InlineData(25)]
    [InlineData(60)]
    public void A_setting_is_as_sure_as_stated_wherever_the_limit_lies_below_the_weakest_cell(double steepness)
    {
        int given = 0, missed = 0;
        for (int seed = 1; seed <= 40; seed++)
        {
            // 40 % at 450 mm/min is the weakest cell; its limit lies 0 to 25 % below.
            double share = 0.75 + 0.25 * (seed - 1) / 39;
            SimulatedCut card = new() { PowerExponent = steepness, SpeedOverPower = 1, HalfwayPowerAt260 = share * 40 * 260 / 450 / 1.12 };
            Reading reading = card.Read(seed);
            if (reading.Cells.Any(cell => cell.Sides!.Left.State != SideState.Open || cell.Sides.Right.State != SideState.Open
                || cell.Sides.Top.State != SideState.Open || cell.Sides.Bottom.State != SideState.Open))
                continue;
            Reading scored = CardScorer.Score(reading, ScoringOptions.Default);
            Recommendation sure = scored.Recommendations.Single(one => one.Goal == Goal.SureCut);
            given++;
            Assert.NotNull(sure.Confidence);
            Assert.Null(sure.Unburned);
            Assert.Null(scored.Boundary);
            if (card.AllOpen(sure.PowerPercent, sure.SpeedMmPerMin) < 0.95) missed++;
        }

        Assert.InRange(given, 3, 40);
        Assert.Equal(0, missed);
    }
}
