using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Scores a cut card.</summary>
internal static class CutScorer
{
    public static Verdict Score(Reading reading) => new()
    {
        Advice = [new("cut-not-scored", $"this version measures the {reading.Cells.Count} cells of a cut card but recommends settings for engraved cards only")],
    };
}
