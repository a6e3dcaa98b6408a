namespace CardScan.Scoring.Engraving;

/// <summary>
/// A mark that vanishes past its peak by degrees, as over-burned marks do: something that lies on cells hides them at once.
/// </summary>
internal static class GradualFall
{
    /// <summary>Marks of this range of the strongest are on their way down.</summary>
    private const double LeastPart = 0.15, MostPart = 0.85;

    private const int FewestOnTheWay = 3;

    /// <summary>True where cells of more energy than the peak show marks in between.</summary>
    public static bool IsSeen(EngravedCard card, double strongest, double peakDose) => card.Marked.Count(cell =>
        Math.Exp(cell.Cell.LnDose) > peakDose && cell.Strength > LeastPart * strongest && cell.Strength < MostPart * strongest)
            >= FewestOnTheWay;
}
