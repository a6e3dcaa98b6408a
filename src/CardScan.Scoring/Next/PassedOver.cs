using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Next;

/// <summary>A burned cell that came through, faster than the setting that the next card is about.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Through">Probability, by dose, that all four sides are through.</param>
/// <param name="HeldNeighbours">How many of its neighbours in the grid have a held side.</param>
/// <param name="Neighbours">How many judged neighbours it has, at most four.</param>
internal sealed record PassedOver(CutCell Cell, Estimate Through, int HeldNeighbours, int Neighbours)
{
    /// <summary>The advice that tells why such cells are not what the next card is about; none where there are none.</summary>
    public static IEnumerable<Advice> By(Reading scored, CellSettings about)
    {
        if (scored.Plan.Process != Process.Cut) yield break;
        CutCard card = CutCard.Of(scored);
        CutCell[] faster = [.. card.Cells.Where(cell => cell.IsSeenThrough
            && UnitBurnTime.SecondsPerMm(cell.Settings) < UnitBurnTime.SecondsPerMm(about))];
        if (faster.Length == 0 || CutLaw.Of(card) is not { } law) yield break;
        CutCell likeliest = faster.MaxBy(cell => law.Fast.Through(cell.Point))!;
        CutCell[] beside = [.. card.Cells.Where(cell =>
            Math.Abs(cell.Address.Row - likeliest.Address.Row) + Math.Abs(cell.Address.Column - likeliest.Address.Column) == 1)];
        yield return NextCardMessages.PassedOver(
            new(likeliest, new CutEstimate(law, likeliest).Through, beside.Count(cell => cell.IsSeenHeld), beside.Length), faster.Length);
    }
}
