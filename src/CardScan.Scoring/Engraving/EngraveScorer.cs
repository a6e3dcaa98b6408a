using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Scores an engraved card.</summary>
internal static class EngraveScorer
{
    /// <summary>Contrast below which a mark is hardly seen; also about the chance of bare wood beside bare wood.</summary>
    private const double FaintestMark = 0.05;

    private const int FewestCells = 3;

    private const double LackOfFitLevel = 0.001;

    /// <summary>A pattern in the residuals that matters, as a share of the strongest mark.</summary>
    private const double LargestPattern = 0.04;

    /// <summary>Chance beyond which the law is not believed, as a share of the strongest mark: twice that of coarse wood.</summary>
    private const double LargestChance = 0.12;

    public static Verdict Score(Reading reading, ScoringOptions options)
    {
        EngravedCard card = EngravedCard.Of(reading);
        if (card.Marked.Count == 0) return Only(EngraveWords.NothingMeasured(card.Burned.Count));
        if (!IsMarked(card)) return Only(EngraveWords.NoMark(card));
        if (card.Marked.Count < FewestCells) return Only(EngraveWords.TooFewCells(card));

        if (DoseOrder.IsReversed(card)) return Only(EngraveWords.WeakensAllOver());
        LawChoice? choice = LawFitter.Fit(card);
        Alikeness? alike = Alikeness.Of(choice?.Card ?? card, options.FullMarkShare);
        if (alike is { AreAlike: true }) return Saturated(choice?.Card ?? card, choice?.Outliers ?? [], alike, options);
        if (choice is null) return ByOrderAlone(card, options, wasTried: false);

        LackOfFit lackOfFit = LackOfFit.Of(choice.Best);
        choice = choice.Allowing(LackOfFit.MisfitOf(choice.Best) / choice.Best.Strongest);
        CellEstimate[] estimates = LawEstimates.Of(choice, options.FullMarkShare);
        if (!IsLaw(choice.Best, lackOfFit) || !AreAccidents(estimates)) return ByOrderAlone(card, options, wasTried: true);
        IReadOnlyList<MarkedCell> covered = FallByPlace.CellsOf(choice, estimates, options.FullMarkShare);
        return covered.Count == 0 ? ByLaw(choice, estimates, lackOfFit, options) : Only(EngraveWords.NoOrder(covered, card));
    }

    /// <summary>A law that leaves a pattern in the residuals, or so much chance that it says nothing, is no law.</summary>
    private static bool IsLaw(LawFit fit, LackOfFit lackOfFit)
    {
        double residual = Math.Sqrt(fit.Residuals().Average(r => r * r));
        bool hasPattern = lackOfFit.Probability < LackOfFitLevel && lackOfFit.PatternDeviation > LargestPattern * fit.Strongest;
        bool vanishes = fit.Law.ShareAt(fit.Parameters, 1) < OrderFit.LeastLeft;
        return !hasPattern && !vanishes && residual <= LargestChance * fit.Strongest;
    }

    /// <summary>One cell in ten may lie under dirt; more of them speak against the law.</summary>
    private static bool AreAccidents(CellEstimate[] estimates) => estimates.Count(cell => cell.IsContradicted) <= Math.Max(1, estimates.Length / 10);

    private static Verdict ByLaw(LawChoice choice, CellEstimate[] estimates, LackOfFit lackOfFit, ScoringOptions options)
    {
        Levelling levelling = Levelling.Of(choice);
        List<Recommendation> recommendations = [];
        List<Advice> advice = LeftOut(choice.Outliers, estimates);
        if (choice.Best.Law.ShareAt(choice.Best.Parameters, 1) < options.FullMarkShare) advice.Add(EngraveWords.Weakens(PeakDose(choice.Best), isLaw: true));
        if (!levelling.HasLevelledOff)
        {
            advice.Add(EngraveWords.NotLevelledOff(levelling, choice.Card));
        }
        else
        {
            if (levelling.PlateauShare < Levelling.LevelledShare) advice.Add(EngraveWords.LevellingUncertain(levelling, options.FullMarkShare, choice.Card));
            AddFastest(estimates, options, recommendations, advice, choice);
        }

        AddDarkest(estimates, choice.Card, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Advice = advice.ToValueList(),
            Boundary = levelling.HasLevelledOff ? LawBoundary.Of(choice, options.FullMarkShare) : null,
            Model = WithStability(LawReport.Of(choice, lackOfFit, levelling), choice, estimates, recommendations, options),
            Outliers = choice.Outliers.Select(cell => cell.Cell.Address).ToValueList(),
        };
    }

    private static double PeakDose(LawFit fit) => fit.Peak * Math.Exp(fit.Law.LnHighestDose(fit.Parameters));

    private static FittedModel WithStability(
        FittedModel model, LawChoice choice, CellEstimate[] estimates, List<Recommendation> recommendations, ScoringOptions options)
    {
        if (recommendations.Find(r => r.Goal == Goal.FastestFullMark) is not { } fastest) return model;
        CellEstimate chosen = estimates.First(estimate => estimate.Marked.Cell.Address == fastest.Cell);
        double stability = Math.Round(LeaveOneOut.Stability(choice, estimates, chosen, options), 4);
        return model with { Diagnostics = new([.. model.Diagnostics, new("fastestFullMarkStability", stability)]) };
    }

    private static Verdict ByOrderAlone(EngravedCard card, ScoringOptions options, bool wasTried)
    {
        OrderFit fit = OrderFit.Of(card);
        if (!fit.HasOrder) return new() { Advice = [EngraveWords.NoOrder(fit.AgainstOrder, card)], Model = fit.Report() };

        CellEstimate[] estimates = fit.Estimates(options.FullMarkShare);
        List<Recommendation> recommendations = [];
        List<Advice> advice = [fit.IsPeaked ? EngraveWords.Weakens(fit.PeakDose, isLaw: false) : EngraveWords.NoLaw(wasTried), .. LeftOut([], estimates)];
        AddFastest(estimates, options, recommendations, advice);
        AddDarkest(estimates, card, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Advice = advice.ToValueList(),
            Model = fit.Report(),
        };
    }

    private static Verdict Saturated(EngravedCard card, IReadOnlyList<MarkedCell> outliers, Alikeness alike, ScoringOptions options)
    {
        OrderFit order = OrderFit.Rising(card);
        CellEstimate[] estimates = order.Estimates(options.FullMarkShare);
        List<Recommendation> recommendations = [];
        List<Advice> advice = [EngraveWords.Saturated(alike, card), .. LeftOut(outliers, estimates)];
        if (alike.Probability >= options.FullMarkConfidence && EngraveGoals.FastestOfAll(estimates) is { } chosen)
        {
            recommendations.Add(RecommendationOf(Goal.FastestFullMark, chosen, EngraveWords.SaturatedReason(chosen, alike)) with
            {
                Confidence = Rounded(alike.Probability),
                Interval = IntervalOf(alike.WeakestShare, alike.Low, alike.High),
            });
        }
        else
        {
            advice.Add(EngraveWords.NoFullMark(options.FullMarkConfidence));
        }

        AddDarkest(estimates, card, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Advice = advice.ToValueList(),
            Model = order.Report(),
            Outliers = outliers.Select(cell => cell.Cell.Address).ToValueList(),
        };
    }

    /// <summary>Names the cells that no goal looks at: outliers of the fit, and cells that contradict it.</summary>
    private static List<Advice> LeftOut(IReadOnlyList<MarkedCell> outliers, CellEstimate[] estimates)
    {
        List<Advice> advice = [];
        if (outliers.Count > 0) advice.Add(EngraveWords.Outliers(outliers));
        MarkedCell[] contradicted = [.. estimates.Where(cell => cell.IsContradicted).Select(cell => cell.Marked)];
        if (contradicted.Length > 0) advice.Add(EngraveWords.PassedOver(contradicted));
        return advice;
    }

    private static void AddFastest(
        CellEstimate[] estimates, ScoringOptions options, List<Recommendation> recommendations, List<Advice> advice, LawChoice? choice = null)
    {
        if (EngraveGoals.Fastest(estimates, options) is not { } chosen)
        {
            advice.Add(EngraveWords.NoFullMark(options.FullMarkConfidence));
            return;
        }

        CellEstimate strongest = estimates.MaxBy(cell => cell.Strength)!;
        CellEstimate? gamble = EngraveGoals.Gamble(estimates, chosen, EngraveWords.LeastGamble);
        string reason = EngraveWords.FastestFullMark(chosen, strongest, gamble, estimates);
        recommendations.Add(choice is null
            ? RecommendationOf(Goal.FastestFullMark, chosen, reason)
            : RecommendationOf(Goal.FastestFullMark, chosen, reason + EngraveWords.Margin(SpeedMargin.Of(choice, chosen, options))) with
            {
                Unburned = BetweenCells.Faster(choice, chosen, options),
            });
    }

    private static void AddDarkest(
        CellEstimate[] estimates, EngravedCard card, ScoringOptions options, List<Recommendation> recommendations, List<Advice> advice)
    {
        DarkestPick pick = EngraveGoals.Darkest(estimates, options);
        if (pick.Cell is { } darkest)
            recommendations.Add(RecommendationOf(Goal.Darkest, darkest, EngraveWords.Darkest(darkest, options.HaloLimitMm, pick.PassedOver, card.IsLighter)));
        else
            advice.Add(pick.Strongest is { } strongest ? EngraveWords.HaloLimit(options.HaloLimitMm, strongest) : EngraveWords.NoneBelievable());
    }

    /// <summary>No fitted model makes anything certain.</summary>
    public static double Rounded(double probability) => Math.Clamp(Math.Round(probability, 3), 0.001, 0.999);

    /// <summary>Interval of the share of the strongest mark, by which the goals are judged.</summary>
    public static Interval IntervalOf(double share, double low, double high) =>
        new("shareOfStrongestMark", Math.Round(share, 4), Math.Round(low, 4), Math.Round(high, 4));

    private static Recommendation RecommendationOf(string goal, CellEstimate cell, string reason) => new()
    {
        Goal = goal,
        PowerPercent = cell.PowerPercent,
        SpeedMmPerMin = cell.SpeedMmPerMin,
        Cell = cell.Marked.Cell.Address,
        Reason = reason,
        // A full mark's probability says nothing of which mark is the strongest.
        Confidence = goal == Goal.FastestFullMark ? Rounded(cell.FullMarkProbability) : null,
        Interval = IntervalOf(cell.Share, cell.ShareLow, cell.ShareHigh),
    };

    private static Verdict Only(Advice advice) => new() { Advice = [advice] };

    /// <summary>Two cells must show a mark, so that one stained cell does not make a card.</summary>
    private static bool IsMarked(EngravedCard card)
    {
        double[] strengths = [.. card.Marked.Select(cell => cell.Strength).OrderDescending()];
        return strengths[Math.Min(1, strengths.Length - 1)] >= FaintestMark;
    }
}
