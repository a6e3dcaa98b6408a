using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>
/// Simulated cards of laws that no fitted curve follows, on which settings were once stated at 98 % and wrong; the
/// truth is that of the noise-free law.
/// </summary>
public sealed class ForeignLawsTests
{
    private const string Folder = "foreign-laws";

    /// <summary>The setting that was once recommended, and its true share of the strongest mark.</summary>
    [Theory]
    [InlineData("engrave-two-stage-b-12-1205017.json", 4600, 75, 0.755)]
    [InlineData("engrave-late-char-6-605011.json", 3010, 83, 0.729)]
    [InlineData("engrave-two-stage-3-301019.json", 900, 54, 0.806)]
    public void A_plateau_below_a_stronger_top_is_no_full_mark(string file, double speed, double power, double truth)
    {
        Assert.True(truth < 0.95);
        Reading scored = CardScorer.Score(SavedReadings.Load(Folder, file), ScoringOptions.Default);

        Recommendation? setting = scored.Recommendations.SingleOrDefault(r => r.Goal == Goal.FastestFullMark);
        double strongest = scored.Cells.Where(cell => !cell.Flags.Any(CellFlag.IsDisqualifying)).Max(cell => cell.MarkStrength!.Value);
        Assert.True(setting is null || setting.SpeedMmPerMin < speed || setting.PowerPercent > power,
            $"{setting?.SpeedMmPerMin} at {setting?.PowerPercent}, {setting?.Confidence}");
        if (setting is null) return;
        CellReading cell = scored.Cells.Single(cell => cell.Row == setting.Cell!.Row && cell.Column == setting.Cell.Column);
        Assert.True(cell.MarkStrength!.Value >= 0.9 * strongest, $"{cell.MarkStrength.Value} of {strongest}");
    }
}
