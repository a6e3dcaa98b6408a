namespace CardScan.Scoring.Tests;

public sealed class PublicSurfaceTests
{
    [Fact]
    public void The_stage_shows_its_entry_point_and_its_options_alone() =>
        Assert.Equal(["CardScorer", "ScoringOptions", "ToneRequest"], typeof(CardScorer).Assembly.GetExportedTypes().Select(type => type.Name).Order());
}
