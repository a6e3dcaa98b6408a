using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Scores a card all of whose marks are alike: the least energy that was burned is already enough.</summary>
internal static class SaturatedScoring
{
    public static Verdict Score(EngravedCard card, IReadOnlyList<MarkedCell> outliers, SaturationTest alike, ScoringOptions options)
    {
        OrderFit order = OrderFit.Rising(card);
        MarkEstimate[] estimates = order.Estimates(options.FullMarkShare);
        MarkPicks picks = new(card, options);
        picks.Advice.Add(EngraveMessages.Saturated(alike, card));
        picks.NameLeftOut(outliers, estimates);
        if (alike.Probability >= options.FullMarkConfidence && EngraveGoals.FastestOfAll(estimates) is { } chosen)
            picks.AddAlike(chosen, alike);
        else picks.Advice.Add(EngraveMessages.NoFullMark(options.FullMarkConfidence));
        picks.AddDarkest(estimates);
        return new()
        {
            Recommendations = [.. picks.Recommendations],
            Advice = [.. picks.Advice],
            Model = order.Report(),
            Outliers = MarkPicks.OwnCells(outliers)
        };
    }
}
