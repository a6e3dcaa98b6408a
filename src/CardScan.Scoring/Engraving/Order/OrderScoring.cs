namespace CardScan.Scoring.Engraving;

/// <summary>Scores a card whose marks follow no law, by their order alone.</summary>
internal static class OrderScoring
{
    public static Verdict Score(EngravedCard card, ScoringOptions options, bool wasTried)
    {
        OrderFit fit = OrderFit.Of(card);
        if (!fit.HasOrder) return new() { Advice = [EngraveWords.NoOrder(fit.AgainstOrder, card)], Model = fit.Report() };

        MarkEstimate[] estimates = fit.Estimates(options.FullMarkShare);
        MarkPicks picks = new(card, options);
        picks.Advice.Add(fit.IsPeaked ? EngraveWords.Weakens(fit.PeakDose, isLaw: false) : EngraveWords.NoLaw(wasTried));
        picks.NameLeftOut([], estimates);
        picks.AddFastest(estimates);
        picks.AddDarkest(estimates);
        return new() { Recommendations = [.. picks.Recommendations], Advice = [.. picks.Advice], Model = fit.Report() };
    }
}
