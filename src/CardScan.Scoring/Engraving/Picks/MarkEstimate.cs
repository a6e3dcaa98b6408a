using CardScan.Language;

namespace CardScan.Scoring.Engraving;

/// <summary>What a fit says of one used cell.</summary>
/// <param name="Marked">The cell.</param>
/// <param name="Strength">Fitted mark strength.</param>
/// <param name="Share">Fitted share of the strongest mark inside the card, 0 to 1.</param>
/// <param name="ShareLow">Lower limit of the share's 95 % interval.</param>
/// <param name="ShareHigh">Upper limit of the share's 95 % interval.</param>
/// <param name="FullMarkProbability">Probability that the cell is a full mark, under the fit.</param>
internal sealed record MarkEstimate(
    MarkedCell Marked, double Strength, double Share, double ShareLow, double ShareHigh, double FullMarkProbability)
{
    /// <summary>A mark that falls this far behind its fit, in standard deviations, contradicts it.</summary>
    private const double MostContradiction = 4;

    /// <summary>Chance from cell to cell that no measurement error covers, as a share of the mark.</summary>
    private const double LeastContradiction = 0.2;

    /// <summary>An interval of the share that runs from below this to above <see cref="KnowsNothingHigh"/> says nothing.</summary>
    private const double KnowsNothingLow = 0.2;

    private const double KnowsNothingHigh = 0.99;

    /// <summary>Its settings, for a message.</summary>
    public Figure Name => Marked.Cell.Name;

    /// <summary>True where the cell's own mark is far weaker than its fit: dirt or a cover lies on it.</summary>
    public bool IsContradicted => Strength - Marked.Strength > MostContradiction * Marked.StandardError + LeastContradiction * Strength;

    /// <summary>True where the fit knows nothing of the cell, which may be a faint mark or the strongest.</summary>
    public bool IsUnknown => ShareLow < KnowsNothingLow && ShareHigh > KnowsNothingHigh;

    /// <summary>False where the cell contradicts the fit, or the fit knows nothing of it: no ground to recommend it.</summary>
    public bool IsBelievable => !IsContradicted && !IsUnknown;

    /// <summary>Time that its setting costs, s/mm².</summary>
    public double SecondsPerMm2 => UnitBurnTime.SecondsPerMm2(Marked.Cell.Settings);

    public double PowerPercent => Marked.Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Marked.Cell.Settings.SpeedMmPerMin;
}
