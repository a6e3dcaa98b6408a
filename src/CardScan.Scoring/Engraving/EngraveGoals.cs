using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Picks the burned cell for each goal.</summary>
internal static class EngraveGoals
{
    /// <summary>
    /// Most that the best estimate of a full mark may fall short: shares are told in whole percents, a slower setting
    /// costs time for certain, and half a percent less contrast cannot be seen and may be chance.
    /// </summary>
    private const double ShortfallAllowance = 0.005;

    /// <summary>The fastest full mark; null where none is sure enough.</summary>
    public static CellEstimate? Fastest(IEnumerable<CellEstimate> estimates, ScoringOptions options) =>
        estimates.Where(cell => IsFullMark(cell, options)).OrderBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent)
            .ThenBy(cell => cell.Marked.Cell.LnDose).FirstOrDefault();

    /// <summary>The fastest cell that is a full mark with a probability; null where there is none.</summary>
    public static CellEstimate? FastestSure(IEnumerable<CellEstimate> estimates, double probability) =>
        Fastest(estimates, new() { FullMarkConfidence = probability });

    /// <summary>The fastest cell of all, where all are alike.</summary>
    public static CellEstimate FastestOfAll(IEnumerable<CellEstimate> estimates) =>
        estimates.OrderBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent).First();

    /// <summary>The strongest mark within the halo limit, and how many stronger ones are past it; null where all are past it.</summary>
    public static (CellEstimate Cell, int PassedOver)? Darkest(IEnumerable<CellEstimate> estimates, ScoringOptions options)
    {
        CellEstimate[] byStrength = [.. estimates.OrderByDescending(cell => cell.Strength).ThenBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent)];
        int index = Array.FindIndex(byStrength, cell => !(cell.Marked.HaloMm > options.HaloLimitMm));
        return index < 0 ? null : (byStrength[index], index);
    }

    private static bool IsFullMark(CellEstimate cell, ScoringOptions options) =>
        options.FullMarkConfidence is { } demanded
            ? cell.FullMarkProbability >= demanded
            : cell.ShareHigh >= options.FullMarkShare && cell.Share >= options.FullMarkShare - ShortfallAllowance;

    /// <summary>
    /// Time for a square millimetre, up to the line's length: speed alone where passes and line interval are the same in
    /// all cells.
    /// </summary>
    private static double SecondsPerMm2(CellEstimate cell)
    {
        CellSettings settings = cell.Marked.Cell.Settings;
        return 60.0 * settings.Passes / (settings.SpeedMmPerMin * (settings.LineIntervalMm ?? 1));
    }
}
