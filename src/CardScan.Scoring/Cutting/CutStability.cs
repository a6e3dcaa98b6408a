namespace CardScan.Scoring.Cutting;

/// <summary>What a sure cut's probability would be without one or another cell of the card.</summary>
/// <param name="Share">Share of the cells without which it would still be as probable as demanded.</param>
/// <param name="Lowest">Lowest probability without one cell.</param>
/// <param name="Weightiest">The cell that it would be without.</param>
internal sealed record CutStability(double Share, double Lowest, CutCell Weightiest)
{
    public static CutStability Of(CutModel model, CutCard card, CutEstimate chosen, double confidence)
    {
        double[] without = [.. card.Cells.Select((_, cell) => model.ThroughWithout(cell, chosen.Cell.Point))];
        int weightiest = Array.IndexOf(without, without.Min());
        return new((double)without.Count(probability => probability >= confidence) / without.Length, without[weightiest],
            card.Cells[weightiest]);
    }
}
