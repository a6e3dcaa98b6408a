using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>What a tenth of speed changes at one setting.</summary>
/// <param name="Chosen">Probability of a full mark at the setting, rounded as the recommendation's confidence is.</param>
/// <param name="Slower">The same 10 % slower; null where that is slower than any burned cell.</param>
/// <param name="Faster">The same 10 % faster.</param>
internal sealed record SpeedMargin(double Chosen, double? Slower, double Faster)
{
    public static SpeedMargin Of(LawChoice choice, MarkDraws draws, MarkEstimate chosen, ScoringOptions options)
    {
        int index = choice.IndexOf(chosen.Marked);
        bool isSlowest = 0.9 * chosen.SpeedMmPerMin < choice.Card.Burned.Min(cell => cell.Settings.SpeedMmPerMin);
        return new(MarkPicks.Rounded(chosen.FullMarkProbability), isSlowest ? null : At(0.9), At(1.1));

        double At(double factor) => draws.EstimateAt(index, options.FullMarkShare, 0, Math.Log(factor)).FullMarkProbability;
    }
}
