using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The strongest mark that may be recommended, or why there is none.</summary>
/// <param name="Cell">The cell; null where none may.</param>
/// <param name="PassedOver">Stronger cells whose halo is past the limit.</param>
/// <param name="Strongest">The strongest believable cell, whatever its halo; null where none is known to be the strongest.</param>
internal sealed record DarkestPick(MarkEstimate? Cell, int PassedOver, MarkEstimate? Strongest);

/// <summary>Picks the burned cell for each goal.</summary>
internal static class EngraveGoals
{
    /// <summary>A faint mark is not "the darkest", however small its halo: it has at least this share of the strongest.</summary>
    public const double LeastDarkest = 0.5;

    /// <summary>A mark under this share of the strongest is chosen for its halo alone, and that is said first.</summary>
    public const double NearlyDarkest = 0.9;

    /// <summary>The fastest full mark; null where none is sure enough.</summary>
    public static MarkEstimate? Fastest(IEnumerable<MarkEstimate> estimates, ScoringOptions options) =>
        FastestFirst(estimates).FirstOrDefault(cell => cell.FullMarkProbability >= options.FullMarkConfidence);

    /// <summary>The cells that may be recommended, the fastest first, of equally fast ones that with the least power.</summary>
    public static IEnumerable<MarkEstimate> FastestFirst(IEnumerable<MarkEstimate> estimates) =>
        estimates.Where(cell => cell.IsBelievable).OrderBy(cell => cell.SecondsPerMm2)
            .ThenBy(cell => cell.PowerPercent).ThenBy(cell => cell.Marked.Cell.LnDose);

    /// <summary>
    /// The fastest cell that may be a full mark, though not with the demanded probability; at that speed the likeliest.
    /// Null where none is as likely as asked.
    /// </summary>
    public static MarkEstimate? Gamble(IEnumerable<MarkEstimate> estimates, MarkEstimate chosen, double leastProbability) =>
        estimates.Where(cell => cell.IsBelievable && cell.SecondsPerMm2 < chosen.SecondsPerMm2
            && cell.FullMarkProbability >= leastProbability)
            .OrderBy(cell => cell.SecondsPerMm2).ThenByDescending(cell => cell.FullMarkProbability).FirstOrDefault();

    /// <summary>The fastest cell of all, where all are alike; null where none is believable.</summary>
    public static MarkEstimate? FastestOfAll(IEnumerable<MarkEstimate> estimates) =>
        FastestFirst(estimates).FirstOrDefault();

    /// <summary>
    /// The strongest mark within the halo limit, if it is a strong one; none where a cell of which nothing is known may
    /// well be stronger than all others.
    /// </summary>
    public static DarkestPick Darkest(IReadOnlyCollection<MarkEstimate> estimates, ScoringOptions options)
    {
        MarkEstimate[] byStrength = [.. estimates.Where(cell => cell.IsBelievable)
            .OrderByDescending(cell => cell.Strength).ThenBy(cell => cell.SecondsPerMm2).ThenBy(cell => cell.PowerPercent)];
        if (byStrength.Length == 0
            || estimates.Any(cell => cell is { IsUnknown: true, IsContradicted: false } && cell.Strength > byStrength[0].Strength))
            return new(null, 0, null);
        int index = Array.FindIndex(byStrength, cell => !(cell.Marked.HaloMm > options.HaloLimitMm));
        bool isStrong = index >= 0 && byStrength[index].Strength >= LeastDarkest * byStrength[0].Strength;
        return new(isStrong ? byStrength[index] : null, index, byStrength[0]);
    }
}
