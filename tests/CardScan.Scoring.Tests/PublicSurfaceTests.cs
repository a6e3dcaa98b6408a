namespace CardScan.Scoring.Tests;

public sealed class PublicSurfaceTests
{
    [Fact]
    public void The_stage_shows_its_entry_points_and_what_they_take_alone() =>
        Assert.Equal(
            [
                "BurnedOnBoth", "CardComparer", "CardJoin", "CardNeed", "CardScorer", "ChartedCard", "ComparisonOptions", "HarderAxis",
                "LabelledReading", "MachineShift", "NeedChart", "NextCard", "SettingCarrier", "SettingToCarry",
            ],
            typeof(CardScorer).Assembly.GetExportedTypes().Select(type => type.Name).Order());
}
