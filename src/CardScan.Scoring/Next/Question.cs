using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Next;

/// <summary>The setting that the next card is to be planned about.</summary>
/// <param name="Goal">The goal it is for.</param>
/// <param name="About">The setting.</param>
/// <param name="Kind">What it is: <c>recommended</c>, <c>between</c> tested ones, or the <c>nearest</c> to a sure cut.</param>
internal sealed record Question(string Goal, CellSettings About, string Kind)
{
    /// <summary>
    /// Probability, by best estimate, of the setting that a card without a sure cut is planned about: a sure cut has
    /// more than is demanded of its lower limit.
    /// </summary>
    private const double ProbabilityAimedAt = 0.99;

    /// <summary>
    /// The recommended setting, or the unburned one that may beat it; where a cut card has none, the nearest to one.
    /// Null where there is none.
    /// </summary>
    public static Question? Of(Reading scored, NextCardOptions options)
    {
        string goal = options.Goal ?? (scored.Plan.Process == Process.Cut ? Model.Goal.SureCut : Model.Goal.FastestFullMark);
        Recommendation? found = scored.Recommendations.FirstOrDefault(r => r.Goal == goal)
            ?? (options.Goal is null ? scored.Recommendations.Take(1).SingleOrDefault() : null);
        if (found is not { Cell: not null }) return scored.Plan.Process == Process.Cut && found is null ? Nearest(scored, goal) : null;
        if (scored.CellOf(found) is not { Settings: var burned }) return null;
        return found.Unburned is { } unburned
            ? new(found.Goal, burned with { PowerPercent = unburned.PowerPercent, SpeedMmPerMin = unburned.SpeedMmPerMin }, "between")
            : new(found.Goal, burned, "recommended");
    }

    private static Question? Nearest(Reading scored, string goal)
    {
        CutCard card = CutCard.Of(scored);
        if (!card.IsMixed || CutModel.Fit(card) is not { IsReversed: false } model) return null;
        CutCell nearest = card.Cells.MaxBy(cell => model.Through(cell.Point))!;
        double? speed = CutScorer.SpeedReaching(model, nearest, ProbabilityAimedAt) is { } reaching
            ? Math.Max(1, Math.Round(reaching / SettableSteps.SpeedStepMmPerMin)) * SettableSteps.SpeedStepMmPerMin
            : null;
        return new(goal, nearest.Settings with { SpeedMmPerMin = speed ?? nearest.Settings.SpeedMmPerMin }, "nearest");
    }
}
