using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Picks the burned cell for each goal.</summary>
internal static class EngraveGoals
{
    /// <summary>A mark that falls this far behind its fit, in standard deviations, contradicts it: dirt or a cover lies on the cell.</summary>
    private const double MostContradiction = 4;

    /// <summary>Chance from cell to cell that no measurement error covers, as a share of the mark.</summary>
    private const double LeastContradiction = 0.2;

    /// <summary>An interval of the share that runs from below this to above <see cref="KnowsNothingHigh"/> says nothing.</summary>
    private const double KnowsNothingLow = 0.2;

    private const double KnowsNothingHigh = 0.99;

    /// <summary>The fastest full mark; null where none is sure enough.</summary>
    public static CellEstimate? Fastest(IEnumerable<CellEstimate> estimates, ScoringOptions options) =>
        estimates.Where(cell => IsFullMark(cell, options)).OrderBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent)
            .ThenBy(cell => cell.Marked.Cell.LnDose).FirstOrDefault();

    /// <summary>A faster cell that is a full mark with less than the demanded probability, yet may be one; null where none is.</summary>
    public static CellEstimate? Gamble(IEnumerable<CellEstimate> estimates, CellEstimate chosen, double leastProbability) =>
        estimates.Where(cell => IsBelievable(cell) && SecondsPerMm2(cell) < SecondsPerMm2(chosen) && cell.FullMarkProbability >= leastProbability)
            .MaxBy(cell => cell.FullMarkProbability);

    /// <summary>The fastest cell of all, where all are alike.</summary>
    public static CellEstimate FastestOfAll(IEnumerable<CellEstimate> estimates) =>
        estimates.OrderBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent).First();

    /// <summary>The strongest mark within the halo limit, and how many stronger ones are past it; null where all are past it.</summary>
    public static (CellEstimate Cell, int PassedOver)? Darkest(IEnumerable<CellEstimate> estimates, ScoringOptions options)
    {
        CellEstimate[] byStrength = [.. estimates.Where(IsBelievable).OrderByDescending(cell => cell.Strength).ThenBy(SecondsPerMm2).ThenBy(cell => cell.PowerPercent)];
        int index = Array.FindIndex(byStrength, cell => !(cell.Marked.HaloMm > options.HaloLimitMm));
        return index < 0 ? null : (byStrength[index], index);
    }

    private static bool IsFullMark(CellEstimate cell, ScoringOptions options) =>
        IsBelievable(cell) && cell.FullMarkProbability >= options.FullMarkConfidence;

    /// <summary>False where the cell's own measurement contradicts the fit, or the fit knows nothing of it.</summary>
    private static bool IsBelievable(CellEstimate cell)
    {
        if (cell.ShareLow < KnowsNothingLow && cell.ShareHigh > KnowsNothingHigh) return false;
        double shortOf = cell.Strength - cell.Marked.Strength;
        return shortOf <= MostContradiction * cell.Marked.StandardError + LeastContradiction * cell.Strength;
    }

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
