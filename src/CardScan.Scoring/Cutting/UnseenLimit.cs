using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>The limit of a card that came through everywhere: it lies below the weakest cell, nobody knows how far.</summary>
/// <remarks>
/// As if one more cell had been burned with a quarter less power than the weakest, and held. A limit further down would make
/// every setting safer, so that is the careful end of what is usual. docs/method/cut-scoring.md, "All through".
/// </remarks>
internal static class UnseenLimit
{
    private const double PowerShare = 0.75;

    /// <summary>The card with that cell, for fits only.</summary>
    public static CutCard AddedTo(CutCard card)
    {
        CutCell weakest = card.Cells.MinBy(cell => cell.LnEnergy)!;
        CellSettings below = weakest.Settings with
        {
            PowerPercent = PowerShare * card.Cells.Min(cell => cell.Settings.PowerPercent),
            SpeedMmPerMin = card.Cells.Max(cell => cell.Settings.SpeedMmPerMin),
            Passes = card.Cells.Min(cell => cell.Settings.Passes),
        };
        CutSide held = new(CutDirection.AlongX, IsThrough: false, OpenFraction: 0, Weight: 1);
        CutCell unseen = new(new(-1, -1), below,
            [held with { Direction = CutDirection.AlongY }, held with { Direction = CutDirection.AlongY }, held, held], HaloMm: null);
        return card with { Cells = [.. card.Cells, unseen] };
    }
}
