namespace CardScan.Scoring.Cutting;

/// <summary>What the order of doses alone says of a card's cells, without any law.</summary>
/// <remarks>A cell that was given at least as much power, time and passes as one that came through should have come through too.</remarks>
internal static class CutOrder
{
    /// <summary>True where some held cell had at least as much of everything as some cell that was seen through.</summary>
    public static bool IsContradictedOn(CutCard card) =>
        card.Cells.Any(held => held.IsHeldFirmly
            && card.Cells.Any(through => through.IsSeenThrough && through.HasNoMoreDoseThan(held.Settings)));

    /// <summary>
    /// True of a held cell that more cells contradict, which came through with no more dose, than bear out, which
    /// were held with no less.
    /// </summary>
    public static bool IsHeldAgainstOrder(CutCell held, CutCard card) => held.IsHeldFirmly
        && card.Cells.Count(cell => cell.IsSeenThrough && cell.HasNoMoreDoseThan(held.Settings))
            > card.Cells.Count(cell => cell.IsHeldFirmly && cell != held && held.HasNoMoreDoseThan(cell.Settings));

    /// <summary>True of a cell that came through although more cells were held with no less dose than came through with no more.</summary>
    public static bool IsThroughAgainstOrder(CutCell through, CutCard card) => through.IsSeenThrough
        && card.Cells.Count(cell => cell.IsHeldFirmly && through.HasNoMoreDoseThan(cell.Settings))
            > card.Cells.Count(cell => cell.IsSeenThrough && cell != through && cell.HasNoMoreDoseThan(through.Settings));

    /// <summary>True of a cell that no cell seen through surpasses: none has at least as much of everything.</summary>
    public static bool IsAtTop(CutCell cell, CutCard card) =>
        !card.Cells.Any(other => other.IsSeenThrough && cell.HasNoMoreDoseThan(other.Settings));
}
