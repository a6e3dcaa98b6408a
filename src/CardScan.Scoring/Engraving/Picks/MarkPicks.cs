using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>The settings that a card's marks are good for, and the advice that goes with them.</summary>
internal sealed class MarkPicks(EngravedCard card, ScoringOptions options)
{
    public List<Recommendation> Recommendations { get; } = [];

    public List<Advice> Advice { get; } = [];

    /// <summary>No fitted model makes anything certain.</summary>
    public static double Rounded(double probability) => Math.Clamp(Math.Round(probability, 3), 0.001, 0.999);

    /// <summary>Interval of the share of the strongest mark, by which the goals are judged.</summary>
    public static Interval IntervalOf(double share, double low, double high) =>
        new("shareOfStrongestMark", Math.Round(share, 4), Math.Round(low, 4), Math.Round(high, 4));

    /// <summary>Places of those of some cells that stand on the reading's own card.</summary>
    public static ValueList<CellAddress> OwnCells(IEnumerable<MarkedCell> cells) =>
        cells.Where(cell => cell.Cell.Card == 0).Select(cell => cell.Cell.Address).ToValueList();

    /// <summary>Names the cells that no goal looks at: outliers of the fit, and cells that contradict it.</summary>
    public void NameLeftOut(IReadOnlyList<MarkedCell> outliers, MarkEstimate[] estimates)
    {
        if (outliers.Count > 0) Advice.Add(EngraveMessages.Outliers(outliers));
        MarkedCell[] contradicted = [.. estimates.Where(cell => cell.IsContradicted).Select(cell => cell.Marked)];
        if (contradicted.Length > 0) Advice.Add(EngraveMessages.PassedOver(contradicted));
    }

    /// <summary>The fastest full mark, or the advice that there is none.</summary>
    public MarkEstimate? AddFastest(MarkEstimate[] estimates)
    {
        if (EngraveGoals.Fastest(estimates, options) is not { } chosen)
        {
            Advice.Add(EngraveMessages.NoFullMark(options.FullMarkConfidence));
            return null;
        }

        MarkEstimate strongest = estimates.MaxBy(cell => cell.Strength)!;
        MarkEstimate? gamble = EngraveGoals.Gamble(estimates, chosen, EngraveMessages.LeastGamble);
        Recommendations.Add(
            RecommendationOf(Goal.FastestFullMark, chosen, EngraveMessages.FastestFullMark(chosen, strongest, gamble, estimates)));
        return chosen;
    }

    /// <summary>
    /// Adds to the fastest full mark what only a law tells: how it hangs on the speed, and what lies between the burned cells.
    /// </summary>
    public void Complete(MarkEstimate chosen, LawChoice choice, MarkDraws draws)
    {
        Recommendation fastest = Recommendations[^1];
        Recommendations[^1] = fastest with
        {
            Reasons = [.. fastest.Reasons, EngraveMessages.Margin(SpeedMargin.Of(choice, draws, chosen, options))],
            Unburned = BetweenCells.Faster(choice, draws, chosen, options),
        };
    }

    /// <summary>The fastest cell of a card whose cells are all alike.</summary>
    public void AddAlike(MarkEstimate chosen, SaturationTest alike) => Recommendations.Add(
        RecommendationOf(Goal.FastestFullMark, chosen, [EngraveMessages.SaturatedReason(chosen, alike)]) with
        {
            Confidence = Rounded(alike.Probability),
            Interval = IntervalOf(alike.WeakestShare, alike.Low, alike.High),
        });

    /// <summary>The strongest mark within the halo limit, or the advice that there is none.</summary>
    public void AddDarkest(MarkEstimate[] estimates)
    {
        DarkestPick pick = EngraveGoals.Darkest(estimates, options);
        if (pick.Cell is { } darkest)
            Recommendations.Add(
                RecommendationOf(Goal.Darkest, darkest, EngraveMessages.Darkest(darkest, options.HaloLimitMm, pick, card.IsLighter)));
        else
            Advice.Add(pick.Strongest is { } strongest
                ? EngraveMessages.HaloLimit(options.HaloLimitMm, strongest)
                : EngraveMessages.NoneBelievable());
    }

    private Recommendation RecommendationOf(string goal, MarkEstimate estimate, IEnumerable<Reason> reasons)
    {
        BurnedCell cell = estimate.Marked.Cell;
        return new()
        {
            Goal = goal,
            PowerPercent = estimate.PowerPercent,
            SpeedMmPerMin = estimate.SpeedMmPerMin,
            Passes = cell.Settings.Passes,
            Cell = cell.Address,
            Card = cell.Card == 0 ? null : card.Readings[cell.Card].Plan.Number,
            EarlierCell = cell.Card == 0 ? null : card.ReadingOf(cell),
            Reasons = [.. reasons],
            // A full mark's probability says nothing of which mark is the strongest.
            Confidence = goal == Goal.FastestFullMark ? Rounded(estimate.FullMarkProbability) : null,
            Interval = IntervalOf(estimate.Share, estimate.ShareLow, estimate.ShareHigh),
        };
    }
}
