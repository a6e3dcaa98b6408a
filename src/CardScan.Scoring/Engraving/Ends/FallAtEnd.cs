namespace CardScan.Scoring.Engraving;

/// <summary>
/// A cell with the most energy whose own mark is weaker than that of cells with less: whatever a curve makes of it,
/// going further is not advised.
/// </summary>
internal static class FallAtEnd
{
    /// <summary>Weakening that counts, as a share of the strongest mark measured.</summary>
    private const double LeastFall = 0.1;

    private const double Errors = 3;

    /// <summary>The strongest setting's cell, where it has fallen; null where not.</summary>
    public static MarkedCell? On(EngravedCard card)
    {
        MarkedCell last = card.Marked.MaxBy(cell => cell.Cell.LnDose)!, strongest = card.Marked.MaxBy(cell => cell.Strength)!;
        double fall = strongest.Strength - last.Strength;
        return fall > LeastFall * strongest.Strength
            && fall > Errors * Math.Sqrt(Math.Pow(last.StandardError, 2) + Math.Pow(strongest.StandardError, 2))
            ? last
            : null;
    }
}
