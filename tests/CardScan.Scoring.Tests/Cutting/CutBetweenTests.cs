using CardScan.Model;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Sure cuts between burned cells.</summary>
public sealed class CutBetweenTests
{
    // Speeds far apart: a setting between two of them is faster than the burned one.
    private static readonly SimulatedCut Coarse = new()
    {
        PowerExponent = 40, PowersPercent = [30, 40, 50, 60, 70, 80, 90, 100], SpeedsMmPerMin = [100, 150, 230, 350, 530],
    };

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void No_setting_is_offered_where_a_cell_with_more_energy_was_held(int seed)
    {
        Reading clean = Coarse.Read(seed);
        UnburnedSetting between = SureCut(clean).Unburned!;
        Assert.InRange(between.SpeedMmPerMin, 231, 349);

        // A knot under the strongest cell of the next slower row: the order of doses knows nothing against the setting, that cell does.
        Recommendation beside = SureCut(clean.WithHeld(cell => cell.Settings is { PowerPercent: 100, SpeedMmPerMin: 230 }));
        // The same knot under a weaker cell says nothing of it.
        Recommendation apart = SureCut(clean.WithHeld(cell => cell.Settings is { PowerPercent: 60, SpeedMmPerMin: 100 }));

        Assert.Null(beside.Unburned);
        Assert.NotNull(apart.Unburned);
    }

    private static Recommendation SureCut(Reading reading) =>
        CardScorer.Score(reading, ScoringOptions.Default).Recommendations.Single(one => one.Goal == Goal.SureCut);
}
