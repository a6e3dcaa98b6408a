namespace CardScan.Scoring.Engraving;

/// <summary>Reads the fitted laws at the cells.</summary>
internal static class LawEstimates
{
    /// <summary>One estimate a used cell, in their order.</summary>
    public static CellEstimate[] Of(LawChoice choice, double fullMarkShare)
    {
        double strongest = choice.Best.Strongest;
        return [.. choice.Card.Marked.Zip(choice.Estimates(fullMarkShare), (cell, estimate) =>
            new CellEstimate(cell, strongest * estimate.Share, estimate.Share, estimate.Low, estimate.High, estimate.FullMarkProbability))];
    }
}
