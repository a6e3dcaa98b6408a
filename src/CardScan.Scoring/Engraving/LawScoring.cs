using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>Scores a card whose marks follow a law, as far as any material does.</summary>
internal static class LawScoring
{
    /// <summary>Sure full marks that make a top of their own on a card that has not levelled off.</summary>
    private const int FewestAtTop = 2;

    public static Verdict Score(LawChoice choice, MarkDraws draws, MarkEstimate[] estimates, ScoringOptions options)
    {
        PlateauTest levelling = PlateauTest.Of(choice);
        bool isKnown = levelling.HasLevelledOff || HasBroadTop(estimates, options);
        PlaceTrend? place = PlaceTrend.On(draws.Best);
        MarkPicks picks = new(choice.Card, options);
        picks.NameLeftOut(choice.Outliers, estimates);
        AddTop(picks.Advice, choice, levelling, isKnown, options);
        MarkEstimate? fastest = isKnown ? picks.AddFastest(estimates) : null;
        if (fastest is not null) picks.Complete(fastest, choice, draws);
        if (place is not null)
            picks.Advice.Add(PlaceMessages.Of(place, fastest is null ? null : place.At(choice, draws, fastest, options)));
        picks.AddDarkest(estimates);
        return new()
        {
            Recommendations = picks.Recommendations.ToValueList(),
            Advice = picks.Advice.ToValueList(),
            Boundary = isKnown ? LawBoundary.Of(choice, draws, options.FullMarkShare) : null,
            Model = ModelOf(choice, draws, levelling, estimates, fastest, options),
            Outliers = MarkPicks.OwnCells(choice.Outliers),
        };
    }

    /// <summary>What the strong end of the card says: whether more energy would give more, or less.</summary>
    private static void AddTop(List<Advice> advice, LawChoice choice, PlateauTest levelling, bool isKnown, ScoringOptions options)
    {
        if (choice.Best.Law.ShareAt(choice.Best.Parameters, 1) < options.FullMarkShare)
            advice.Add(EngraveMessages.Weakens(choice.Best.PeakDose, isLaw: true));
        else if (FallAtEnd.On(choice.Card) is { } fallen) advice.Add(EngraveMessages.WeakensAtEnd(fallen, choice.Card));
        else if (!levelling.HasLevelledOff) advice.Add(EngraveMessages.NotLevelledOff(levelling, choice.Card, isKnown));
        else if (levelling.Low < PlateauTest.LevelledShare)
            advice.Add(EngraveMessages.LevellingUncertain(levelling, options.FullMarkShare, choice.Card));
    }

    /// <summary>
    /// Where so many cells are surely full marks, the card's own strongest mark is known, whether or not more dose gives more.
    /// </summary>
    private static bool HasBroadTop(MarkEstimate[] estimates, ScoringOptions options) =>
        estimates.Count(cell => cell.IsBelievable && cell.FullMarkProbability >= options.FullMarkConfidence) >= FewestAtTop;

    private static FittedModel ModelOf(LawChoice choice, MarkDraws draws, PlateauTest levelling, MarkEstimate[] estimates,
        MarkEstimate? fastest, ScoringOptions options)
    {
        FittedModel model = LawReport.Of(choice, draws, LackOfFit.Of(choice.Best), levelling);
        if (fastest is null) return model;
        double stability = Math.Round(LeaveOneOut.Stability(draws, estimates, fastest, options), 4);
        return model with { Diagnostics = new([.. model.Diagnostics, new("fastestFullMarkStability", stability)]) };
    }
}
