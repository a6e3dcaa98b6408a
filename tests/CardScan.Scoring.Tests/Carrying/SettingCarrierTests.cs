using CardScan.Model;
using CardScan.Scoring.Carrying;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>A setting on a machine that did not burn it.</summary>
public sealed class SettingCarrierTests
{
    private static readonly CellSettings Old = new() { PowerPercent = 80, SpeedMmPerMin = 1000 };

    private static readonly Interval Factor = new("energyFactor", 1.25, 0.8, 2);

    /// <summary>Line energy is power over speed: twice the watts allow twice the speed, and 1.25 times the need 1/1.25 of that.</summary>
    [Theory]
    [InlineData(Goal.FastestFullMark, 1600)]
    [InlineData(Goal.Darkest, 1600)]
    [InlineData(Goal.SureCut, 1000)] // the careful end: twice the need
    [InlineData(Goal.CleanCut, 1000)]
    public void At_the_same_power_the_speed_follows_watts_and_need(string goal, double speed)
    {
        CarriedSetting carried = SettingCarrier.Carry(goal, Old, speedExponent: 1, watts: 2, Factor, fastestMmPerMin: null);

        Assert.Equal((speed, 80.0), (carried.SpeedMmPerMin, carried.PowerPercent));
        Assert.Equal(new Interval("speedMmPerMin", 1600, 1000, 2500), carried.Speed);
    }

    [Fact]
    public void Where_speed_counts_for_less_than_power_it_changes_more() => Assert.Equal(
        Math.Round(1000 * Math.Pow(1.6, 1 / 0.8) / 10) * 10,
        SettingCarrier.Carry(Goal.Darkest, Old, speedExponent: 0.8, watts: 2, Factor, fastestMmPerMin: null).SpeedMmPerMin);

    [Fact]
    public void Beyond_the_fastest_feed_the_power_is_lowered_and_the_energy_stays()
    {
        CarriedSetting carried = SettingCarrier.Carry(Goal.Darkest, Old, speedExponent: 1, watts: 8, Factor, fastestMmPerMin: 3200);

        Assert.Equal((3200.0, 40.0), (carried.SpeedMmPerMin, carried.PowerPercent));
    }
}
