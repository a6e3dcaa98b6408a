using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Scores a cut card.</summary>
internal static class CutScorer
{
    public static Verdict Score(Reading reading, ScoringOptions options)
    {
        CutCard card = CutCard.Of(reading);
        if (card.Cells.Count == 0) return new() { Advice = [CutWords.NoSides()] };

        List<Advice> advice = [];
        int unseen = reading.Cells.Count - card.Cells.Count;
        if (unseen > 0) advice.Add(CutWords.UnseenCells(unseen));
        if (card.Cells.All(cell => !cell.IsSeenHeld)) return AllThrough(card, advice);
        if (!card.Cells.Any(cell => cell.Sides.Any(side => side.OpenFraction >= CutCell.ThroughFraction)))
            return new() { Advice = [.. advice, CutWords.NoneThrough(card)] };
        if (CutModel.Fit(card) is not { } model) return new() { Advice = [.. advice, CutWords.NoModel()] };

        CutEstimate[] estimates = [.. card.Cells.Select(cell => new CutEstimate(model, cell))];
        List<Recommendation> recommendations = [];
        Recommend(model, estimates, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Advice = advice.ToValueList(),
            Boundary = CutReport.Boundary(model, card),
            Model = CutReport.Of(model, card),
        };
    }

    private static void Recommend(
        CutModel model, CutEstimate[] estimates, ScoringOptions options, List<Recommendation> recommendations, List<Advice> advice)
    {
        CutEstimate[] sure = Sure(estimates, options.CutConfidence);
        if (sure.Length == 0)
        {
            CutEstimate best = estimates.Where(estimate => !estimate.Cell.IsSeenHeld).DefaultIfEmpty(estimates[0]).MaxBy(estimate => estimate.Probability)!;
            advice.Add(CutWords.NoSureCut(best, best.Low, options.CutConfidence));
            return;
        }

        CutEstimate fastest = sure.OrderBy(estimate => BurnTime.SecondsPerMm(estimate.Cell.Settings))
            .ThenBy(estimate => estimate.PowerPercent).First();
        recommendations.Add(RecommendationOf(Goal.SureCut, fastest,
            CutWords.SureCut(fastest, model, estimates)));
        CutEstimate cleanest = sure.Where(estimate => estimate.Cell.HaloMm is not null).DefaultIfEmpty()
            .MinBy(estimate => estimate?.Cell.HaloMm) ?? sure.MinBy(estimate => estimate.Cell.LnPower - estimate.Cell.LnSpeed)!;
        recommendations.Add(RecommendationOf(Goal.CleanCut, cleanest, CutWords.CleanCut(cleanest)));
    }

    /// <summary>Cells that are through with the demanded probability at the lower end of its interval, and were not seen to be held.</summary>
    private static CutEstimate[] Sure(CutEstimate[] estimates, double confidence)
    {
        // An interval costs many fits: a cell no weaker than a sure one is sure, one no stronger than an unsure one is not.
        List<CutEstimate> sure = [];
        List<CutEstimate> unsure = [];
        foreach (CutEstimate estimate in estimates.OrderBy(estimate => Math.Abs(estimate.Probability - 0.999)))
        {
            bool isSure = sure.Exists(estimate.IsNoWeakerThan)
                || (estimate.Probability >= confidence && !unsure.Exists(other => other.IsNoWeakerThan(estimate)) && estimate.Low >= confidence);
            (isSure ? sure : unsure).Add(estimate);
        }

        return [.. sure.Where(estimate => !estimate.Cell.IsSeenHeld)];
    }

    private static Verdict AllThrough(CutCard card, List<Advice> advice)
    {
        CutCell fastest = card.Cells.OrderBy(cell => BurnTime.SecondsPerMm(cell.Settings))
            .ThenBy(cell => cell.Settings.PowerPercent).First();
        return new()
        {
            Recommendations =
            [
                new Recommendation
                {
                    Goal = Goal.SureCut,
                    PowerPercent = fastest.Settings.PowerPercent,
                    SpeedMmPerMin = fastest.Settings.SpeedMmPerMin,
                    Cell = fastest.Address,
                    Reason = CutWords.AllThroughReason(fastest),
                },
            ],
            Advice = [.. advice, CutWords.AllThrough(card)],
        };
    }

    private static Recommendation RecommendationOf(string goal, CutEstimate estimate, string reason) => new()
    {
        Goal = goal,
        PowerPercent = estimate.PowerPercent,
        SpeedMmPerMin = estimate.SpeedMmPerMin,
        Cell = estimate.Cell.Address,
        Reason = reason,
        Confidence = Math.Clamp(Math.Round(estimate.Probability, 4), 0.0001, 0.9999), // no fitted model makes anything certain
        Interval = new("probabilityThrough", Math.Round(estimate.Probability, 4), Math.Round(estimate.Low, 4), Math.Round(estimate.High, 4)),
    };
}
