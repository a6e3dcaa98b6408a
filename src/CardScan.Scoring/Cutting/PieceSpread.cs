namespace CardScan.Scoring.Cutting;

/// <summary>
/// How much the energy that a cut needs differs from piece to piece of one material: thickness, density, moisture, focus.
/// </summary>
internal static class PieceSpread
{
    /// <summary>Standard deviation of ln dose between pieces before cards tell of it, and how many pieces that knowledge weighs.</summary>
    /// <remarks>Common practice, no source: two cards of one batch agree within a few percent.</remarks>
    public const double Usual = 0.03, Weight = 4;

    /// <summary>A deviation that leaves a card's limit where the card alone puts it.</summary>
    public const double Any = 0.5;

    /// <summary>A single card's limit is that of its own piece: another one differs from it by both pieces' chance.</summary>
    public static readonly double FromOnePieceToAnother = Math.Sqrt(2) * Usual;

    /// <summary>The deviation that cards show, drawn towards the usual one.</summary>
    /// <param name="lnFactors">Each card's ln dose over the mean, as a fit with such a deviation puts it.</param>
    /// <param name="variances">Their variances.</param>
    public static double Of(double[] lnFactors, double[] variances) =>
        Math.Sqrt((Weight * Usual * Usual + lnFactors.Zip(variances, (factor, variance) => factor * factor + variance).Sum())
            / (Weight + lnFactors.Length));
}
