using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Cutting;

/// <summary>Sides held by a short bridge or a stuck corner though their dose was enough, among the sides of which that is known.</summary>
/// <remarks>
/// A mostly open side near the limit lacks a little dose; far beyond it, more dose would not have helped. The two are told
/// apart by a fit to the card's other sides. docs/method/cut-scoring.md, "Bridges".
/// </remarks>
/// <param name="Count">Bridged sides.</param>
/// <param name="Sides">Judged sides that had dose enough, those included.</param>
internal sealed record Bridges(int Count, int Sides)
{
    /// <summary>Dose is enough where the fit to the other sides gives a side at least this probability of being through.</summary>
    private const double DoseEnough = 0.98;

    private const int SidesOfACell = 4;

    private const double Tail = 0.025;   // two-sided 95 %

    /// <summary>
    /// Probability that no side of a cell is held by a bridge, with its interval (Clopper and Pearson's for the rate);
    /// 1 where none was seen.
    /// </summary>
    public Estimate NoneOnFourSides => Count == 0 ? new(1, 1, 1) : new(
        Math.Pow(1 - (double)Count / Sides, SidesOfACell),
        Count == Sides ? 0 : Math.Pow(1 - Beta.InvCDF(Count + 1, Sides - Count, 1 - Tail), SidesOfACell),
        Math.Pow(1 - Beta.InvCDF(Count, Sides - Count + 1, Tail), SidesOfACell));

    public static Bridges On(CutCard card)
    {
        CutSide[] enough = [.. card.Cells.SelectMany(cell => cell.Sides).Where(side => side.HasDoseEnough)];
        return new(enough.Count(side => side.IsBridged), enough.Length);
    }

    /// <summary>
    /// The card with the sides marked that had dose enough; the same where no side is mostly open, or nothing can be told.
    /// </summary>
    public static CutCard MarkedOn(CutCard card)
    {
        if (!card.Cells.Any(cell => cell.Sides.Any(side => side.IsMostlyOpen))) return card;
        CutCard clear = card.WithSides((_, sides) => sides.Where(side => !side.IsMostlyOpen));
        return clear.IsMixed && CutModel.Fit(clear) is { IsMonotone: true } model
            ? card.WithSides((cell, sides) =>
                sides.Select(side => side with { HasDoseEnough = model.SideProbability(cell.Point, side.Direction) >= DoseEnough }))
            : card;
    }
}
