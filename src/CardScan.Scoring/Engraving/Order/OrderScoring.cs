using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Scores a card whose marks follow no law, by their order alone.</summary>
internal static class OrderScoring
{
    public static Verdict Score(EngravedCard card, ScoringOptions options, bool wasTried)
    {
        OrderFit fit = OrderFit.Of(card);
        if (!fit.HasOrder) return new() { Advice = [EngraveMessages.NoOrder(fit.AgainstOrder, card)], Model = fit.Report() };

        MarkEstimate[] estimates = fit.Estimates(options.FullMarkShare);
        MarkPicks picks = new(card, options);
        picks.Advice.Add(fit.IsPeaked ? EngraveMessages.Weakens(fit.PeakDose, isLaw: false) : EngraveMessages.NoLaw(wasTried));
        picks.NameLeftOut([], estimates);
        picks.AddFastest(estimates);
        picks.AddDarkest(estimates);
        return new() { Recommendations = [.. picks.Recommendations], Advice = [.. picks.Advice], Model = fit.Report() };
    }
}
