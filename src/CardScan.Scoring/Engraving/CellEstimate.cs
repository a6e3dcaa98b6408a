namespace CardScan.Scoring.Engraving;

/// <summary>What a fit says of one used cell.</summary>
/// <param name="Marked">The cell.</param>
/// <param name="Strength">Fitted mark strength.</param>
/// <param name="Share">Fitted share of the strongest mark inside the card, 0 to 1.</param>
/// <param name="ShareError">Standard error of the share.</param>
/// <param name="ShareLow">Lower limit of the share's 95 % interval.</param>
/// <param name="ShareHigh">Upper limit of the share's 95 % interval.</param>
/// <param name="FullMarkProbability">Probability that the cell is a full mark, under the fit.</param>
internal sealed record CellEstimate(
    MarkedCell Marked, double Strength, double Share, double ShareError, double ShareLow, double ShareHigh, double FullMarkProbability)
{
    public double PowerPercent => Marked.Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Marked.Cell.Settings.SpeedMmPerMin;
}
