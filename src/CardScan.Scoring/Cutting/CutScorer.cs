using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Scores a cut card.</summary>
internal static class CutScorer
{
    /// <summary>Name of the figure by which cuts are judged.</summary>
    public const string ProbabilityThrough = "probabilityThrough";

    public static Verdict Score(Reading reading, ScoringOptions options)
    {
        CutCard card = CutCard.Of(reading);
        if (card.Cells.Count == 0) return new() { Advice = [CutWords.NoSides(reading)] };

        List<Advice> advice = [];
        int unseen = reading.Cells.Count - card.Cells.Count;
        if (unseen > 0) advice.Add(CutWords.UnseenCells(unseen));
        if (card.Cells.All(cell => !cell.IsSeenHeld)) return NoneHeld(card, reading, advice);
        if (!card.IsMixed) return new() { Advice = card.HasStrongestOf(reading) ? [.. advice, CutWords.NoneThrough(card)] : [CutWords.StrongestUnseen(unseen)] };
        ValueList<CutCell> spoiled = SpoiledCells.Of(card);
        if (spoiled.Count > 0)
        {
            card = card.Without(spoiled);
            advice.Add(CutWords.Spoiled(spoiled, reading.Plan));
        }

        Bridges bridges = Bridges.On(card);
        if (bridges.Count > 0) advice.Add(CutWords.Bridged(bridges, card));
        if (CutModel.Fit(card) is not { } model) return new() { Advice = [.. advice, CutWords.NoModel()] };
        if (model.IsReversed) return new() { Advice = [.. advice, CutWords.Reversed()] };

        List<Recommendation> recommendations = [];
        CutStability? stability = Recommend(model, card, bridges, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Advice = advice.ToValueList(),
            Outliers = spoiled.Select(cell => cell.Address).ToValueList(),
            Boundary = CutReport.Boundary(model, card),
            Model = CutReport.Of(model, card, spoiled.Count, stability),
        };
    }

    /// <summary>Adds the recommendations, or the advice why there are none.</summary>
    /// <returns>How far the sure cut hangs on single cells; null where there is none.</returns>
    private static CutStability? Recommend(CutModel model, CutCard card, Bridges bridges, ScoringOptions options, List<Recommendation> recommendations, List<Advice> advice)
    {
        double confidence = options.CutConfidence;
        CutEstimate[] estimates = [.. card.Cells.Select(cell => new CutEstimate(model, cell))];
        // An interval costs a search, so cells are asked in the order in which they are wanted.
        CutEstimate[] bySpeed = [.. estimates.OrderBy(estimate => estimate.Cell.SecondsPerMetre).ThenBy(estimate => estimate.PowerPercent)];
        if (bySpeed.FirstOrDefault(estimate => IsSure(estimate, confidence)) is not { } fastest)
        {
            if (bySpeed.FirstOrDefault(estimate => !estimate.Cell.IsSeenHeld && HasDoseEnough(estimate, confidence)) is { } unjudged)
            {
                advice.Add(CutWords.SureButUnjudged(unjudged));
                return null;
            }

            CutEstimate best = estimates.Where(estimate => !estimate.Cell.IsSeenHeld).DefaultIfEmpty(estimates[0]).MaxBy(estimate => estimate.Probability)!;
            advice.Add(CutWords.NoSureCut(best, SpeedReaching(model, best.Cell, confidence), confidence));
            return null;
        }

        CutEstimate? faster = bySpeed.FirstOrDefault(estimate => estimate.Cell.IsSeenThrough && estimate.Cell.SecondsPerMetre < fastest.Cell.SecondsPerMetre);
        CutStability stability = CutStability.Of(model, card, fastest, confidence);
        recommendations.Add(RecommendationOf(Goal.SureCut, fastest, bridges, CutWords.SureCut(fastest, faster, model, stability, bridges, confidence)) with
        {
            Unburned = CutBetween.FasterThan(fastest, model, card, confidence),
        });
        CutEstimate cleanest = estimates.Where(estimate => estimate.Cell.HaloMm is not null).OrderBy(estimate => estimate.Cell.HaloMm)
            .Concat(estimates.OrderBy(estimate => estimate.Cell.LnEnergy))
            .First(estimate => IsSure(estimate, confidence));
        recommendations.Add(RecommendationOf(Goal.CleanCut, cleanest, bridges, CutWords.CleanCut(cleanest, bridges)));
        return stability;
    }

    /// <summary>Seen through on all four sides, and through with the demanded probability at the lower end of its interval.</summary>
    private static bool IsSure(CutEstimate estimate, double confidence) => estimate.Cell.IsSeenThrough && HasDoseEnough(estimate, confidence);

    private static bool HasDoseEnough(CutEstimate estimate, double confidence) => estimate.Probability >= confidence && estimate.Low >= confidence;

    /// <summary>The speed at a cell's power at which it would be through with some probability by best estimate; null where that is far off.</summary>
    public static double? SpeedReaching(CutModel model, CutCell cell, double probability)
    {
        const double FarthestLnSpeed = 1.1;   // a third of the speed
        double low = cell.Point.LnSpeed - FarthestLnSpeed, high = cell.Point.LnSpeed;
        if (!model.IsMonotone || !(At(low) >= probability) || At(high) >= probability) return null;
        for (int round = 0; round < 30; round++)
        {
            double middle = (low + high) / 2;
            if (At(middle) >= probability) low = middle;
            else high = middle;
        }

        return Math.Exp(low);

        double At(double lnSpeed) => model.Through(cell.Point with { LnSpeed = lnSpeed });
    }

    /// <summary>No side was seen held: the fastest cell will do where every cell, or one with no more dose, was seen through; else what is unseen may be held.</summary>
    private static Verdict NoneHeld(CutCard card, Reading reading, List<Advice> advice)
    {
        CutCell[] through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        CellReading[] doubtful = [.. reading.Cells.Where(cell => !through.Any(seen => seen.HasNoMoreDoseThan(cell.Settings)))];
        if (doubtful.Length > 0) return new() { Advice = [.. advice, CutWords.SidesMissing(doubtful.Length, through, reading.Plan)] };

        card = new(through.ToValueList());
        CutCell fastest = card.Cells.OrderBy(cell => cell.SecondsPerMetre).ThenBy(cell => cell.Settings.PowerPercent).First();
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

    /// <summary>A probability in the files.</summary>
    public static Interval IntervalOf(Estimate through) =>
        new(ProbabilityThrough, CutWords.Rounded(through.Value), CutWords.Rounded(through.Low), CutWords.Rounded(through.High));

    /// <summary>The setting is chosen by its dose; what is stated of it counts the bridges as well.</summary>
    private static Recommendation RecommendationOf(string goal, CutEstimate estimate, Bridges bridges, string reason)
    {
        Interval through = IntervalOf(estimate.Through.And(bridges.NoneOnFourSides));
        return new()
        {
            Goal = goal,
            PowerPercent = estimate.PowerPercent,
            SpeedMmPerMin = estimate.SpeedMmPerMin,
            Cell = estimate.Cell.Address,
            Reason = reason,
            Confidence = through.Value,
            Interval = through,
        };
    }
}
