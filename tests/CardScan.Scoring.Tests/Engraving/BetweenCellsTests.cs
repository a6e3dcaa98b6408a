using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

public sealed class BetweenCellsTests
{
    // Speeds far apart: most of the time a setting between two of them is faster than the burned one.
    private static readonly SimulatedCard Coarse =
        new() { PowersPercent = [20, 40, 60, 80], SpeedsMmPerMin = [800, 1400, 2500, 4400, 7700], StrengthChance = 0.01 };

    [Fact]
    public void A_faster_setting_between_burned_cells_is_offered_beside_the_burned_one()
    {
        int offered = 0, full = 0;
        for (int seed = 1; seed <= 40; seed++)
        {
            Recommendation fastest =
                CardScorer.Score(Coarse.Read(seed), ScoringOptions.Default).Recommendations.Single(r => r.Goal == Goal.FastestFullMark);
            Assert.Contains(fastest.SpeedMmPerMin, Coarse.SpeedsMmPerMin);
            if (fastest.Unburned is not { } unburned) continue;

            offered++;
            Assert.InRange(unburned.SpeedMmPerMin, 1.05 * fastest.SpeedMmPerMin, 7700);
            Assert.InRange(unburned.PowerPercent, 20, 80);
            Assert.Equal((0, 0), (unburned.SpeedMmPerMin % 10, unburned.PowerPercent % 1));
            Assert.InRange(unburned.Confidence, 0.8, 1);
            Assert.Contains("try it first", unburned.Reason, StringComparison.Ordinal);
            if (Coarse.Share(unburned.PowerPercent, unburned.SpeedMmPerMin) >= 0.95) full++;
        }

        // Each is a full mark with at least 80 % probability; 40 cards leave a deviation of 6 %.
        Assert.InRange(offered, 30, 40);
        Assert.InRange((double)full / offered, 0.65, 1);
    }

    /// <summary>
    /// A mark that never levels off: among so many settings the one that looks good enough is flattered by chance. As
    /// the law states it, a third of them reach the goal.
    /// </summary>
    [Fact]
    public void A_setting_chosen_among_many_is_as_good_as_stated()
    {
        SizedLaw ramp = SizedLaw.All.Single(law => law.Name == "engrave, log ramp, 6x6");
        int offered = 0, full = 0;
        for (int card = 0; card < 60; card++)
        {
            (TrueCard truth, Reading reading) = ramp.Draw(1, card);
            if (CardScorer.Score(reading, ScoringOptions.Default).Recommendations is not [{ Unburned: { } unburned }, ..]) continue;
            offered++;
            if (truth.ReachesGoal(unburned.PowerPercent, unburned.SpeedMmPerMin)) full++;
        }

        Assert.InRange(offered, 15, 60);
        Assert.InRange((double)full / offered, 0.7, 1);
    }

    [Fact]
    public void The_margin_is_said_in_speed()
    {
        string[] reasons = [.. Enumerable.Range(1, 20).Select(seed =>
            CardScorer.Score(Coarse.Read(seed), ScoringOptions.Default).Recommendations
                .Single(r => r.Goal == Goal.FastestFullMark).Reason)];

        const string margin = @"The chance of a full mark is .+ %;.* 10 % faster (lowers it to .+ %|raises it to .+ %|leaves it there)\.";
        Assert.All(reasons, reason => Assert.Matches(margin, reason));
        Assert.Contains(reasons, reason => reason.Contains("10 % slower raises it to ", StringComparison.Ordinal));
    }
}
