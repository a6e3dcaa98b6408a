using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>Scores engraved cards.</summary>
internal static class EngraveScorer
{
    /// <summary>Contrast below which a mark is hardly seen; also about the chance of bare wood beside bare wood.</summary>
    private const double FaintestMark = 0.05;

    private const int FewestCells = 3;

    /// <summary>Chance beyond which no law is believed, as a share of the strongest mark: twice that of coarse wood.</summary>
    private const double LargestChance = 0.12;

    public static Verdict Score(Reading reading, ValueList<Reading> earlier, ScoringOptions options)
    {
        EngravedCard card = EngravedCard.Of([reading, .. earlier]);
        if (card.Marked.Count == 0) return Only(EngraveMessages.NothingMeasured(card.Burned.Count));
        if (!IsMarked(card)) return Only(EngraveMessages.NoMark(card));
        if (card.Marked.Count < FewestCells) return Only(EngraveMessages.TooFewCells(card));

        DoseTrend trend = DoseOrder.Of(card);
        if (trend.Contradicts || (trend.Falls && !DoseOrder.RisesFirst(card))) return Only(EngraveMessages.WeakensAllOver(card, trend));
        LawChoice? choice = LawFitter.Fit(card);
        MarkDraws? draws = choice is null ? null : new(choice);
        CardAgreement[] compared = draws is null ? [] : [.. CardAgreement.Of(draws, choice!.Card)];
        if (compared.Any(other => !other.Agrees)) return WithoutUnlike(reading, earlier, compared, options);

        return Judged(card, choice, draws, options) with { Joined = earlier.Count == 0 ? null : JoinedOf(card, compared) };
    }

    /// <summary>By a law where the cells follow one, else by what else they tell.</summary>
    private static Verdict Judged(EngravedCard card, LawChoice? choice, MarkDraws? draws, ScoringOptions options)
    {
        SaturationTest? alike = SaturationTest.Of(choice?.Card ?? card, options.FullMarkShare);
        if (alike is { AreAlike: true }) return SaturatedScoring.Score(choice?.Card ?? card, choice?.Outliers ?? [], alike, options);
        if (choice is null || draws is null) return OrderScoring.Score(card, options, wasTried: false);

        MarkEstimate[] estimates = EstimatesOf(choice, draws, options.FullMarkShare);
        if (!IsLaw(choice.Best, draws) || !AreAccidents(estimates)) return OrderScoring.Score(card, options, wasTried: true);
        IReadOnlyList<MarkedCell> covered = FallByPlace.CellsOf(choice, estimates, options.FullMarkShare);
        return covered.Count == 0 ? LawScoring.Score(choice, draws, estimates, options) : Only(EngraveMessages.NoOrder(covered, card));
    }

    /// <summary>Cards that differ by more than chance are said, not averaged.</summary>
    private static Verdict WithoutUnlike(Reading reading, ValueList<Reading> earlier, CardAgreement[] compared, ScoringOptions options)
    {
        HashSet<int> unlike = [.. compared.Where(other => !other.Agrees).Select(other => other.Card)];
        Verdict verdict = Score(reading, earlier.Where((_, i) => !unlike.Contains(i + 1)).ToValueList(), options);
        Advice[] advice =
            [.. compared.Where(other => !other.Agrees).Select(other => EngraveMessages.CardsDisagree(earlier[other.Card - 1].Plan, other))];
        return verdict with { Advice = [.. advice, .. verdict.Advice] };
    }

    private static ValueList<JoinedCard> JoinedOf(EngravedCard card, CardAgreement[] compared) =>
        card.Readings.Skip(1).Select((reading, i) =>
        {
            CardAgreement? agreement = compared.FirstOrDefault(other => other.Card == i + 1);
            return JoinedCard.Of(reading, card.Marked.Count(cell => cell.Cell.Card == i + 1)) with
            {
                DoseFactor = agreement?.DoseFactor,
                MarkFactor = agreement?.MarkFactor,
            };
        }).ToValueList();

    /// <summary>One estimate a used cell, in their order.</summary>
    private static MarkEstimate[] EstimatesOf(LawChoice choice, MarkDraws draws, double fullMarkShare) =>
        [.. choice.Card.Marked.Zip(draws.Estimates(choice.Card.Marked.Count, fullMarkShare), (cell, estimate) =>
            new MarkEstimate(cell, draws.Strongest * estimate.Share, estimate.Share, estimate.Low,
                Math.Max(estimate.High, OwnLimit(cell, draws)), estimate.FullMarkProbability))];

    /// <summary>
    /// A step between two settings is rounded off by what joins them smoothly: an interval reaches up to what the
    /// cell's own mark allows.
    /// </summary>
    private static double OwnLimit(MarkedCell cell, MarkDraws draws) =>
        Math.Clamp(cell.Strength / draws.Strongest + NormalQuantile.TwoSided95 * draws.Chance, 0, 1);

    /// <summary>A law that leaves so much chance that it says nothing, or under which the mark vanishes at once, is no law.</summary>
    private static bool IsLaw(LawFit fit, MarkDraws draws)
    {
        bool vanishes = fit.Law.ShareAt(fit.Parameters, 1) < OrderFit.LeastLeft;
        return (!vanishes || GradualFall.IsSeen(fit.Card, fit.Strongest, fit.PeakDose)) && draws.Chance <= LargestChance;
    }

    /// <summary>One cell in ten may lie under dirt; more of them speak against the law.</summary>
    private static bool AreAccidents(MarkEstimate[] estimates) =>
        estimates.Count(cell => cell.IsContradicted) <= Math.Max(1, estimates.Length / 10);

    private static Verdict Only(Advice advice) => new() { Advice = [advice] };

    /// <summary>Two cells must show a mark, so that one stained cell does not make a card.</summary>
    private static bool IsMarked(EngravedCard card)
    {
        double[] strengths = [.. card.Marked.Select(cell => cell.Strength).OrderDescending()];
        return strengths[Math.Min(1, strengths.Length - 1)] >= FaintestMark;
    }
}
