using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The monotone fit as it stands in the reading.</summary>
internal static class IsotonicReport
{
    public static FittedModel Of(EngravedCard card, CellEstimate[] estimates, string name)
    {
        double[] values = [.. card.Marked.Select(cell => cell.Strength)];
        double[] levels = [.. estimates.Select(estimate => estimate.Strength)];
        return new()
        {
            Name = name,
            Diagnostics = new(
            [
                new("cellsUsed", card.Marked.Count),
                new("residualDeviation", Math.Round(IsotonicCard.Deviation(card, values, levels), 6)),
            ]),
        };
    }
}
