using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Engraving;

/// <summary>How the marks of a card go with energy: 1 where they mostly rise, −1 where they mostly fall, else 0.</summary>
/// <param name="WithPower">With power at one speed.</param>
/// <param name="WithTime">With slower speed at one power.</param>
internal sealed record DoseTrend(int WithPower, int WithTime)
{
    /// <summary>
    /// True where the marks weaken with more energy one way or the other. Then the card lies past the best of its material
    /// (published marks of plastics weaken when slow and still get stronger with power), or an axis of the plan is reversed.
    /// </summary>
    public bool Falls => WithPower < 0 || WithTime < 0;

    /// <summary>True where one way contradicts the other.</summary>
    public bool Contradicts => Falls && (WithPower > 0 || WithTime > 0);
}

/// <summary>Whether marks get stronger with dose along the card's rows and along its columns.</summary>
internal static class DoseOrder
{
    /// <summary>Fewer cells of a line may stand in any order by chance.</summary>
    private const int FewestInLine = 3;

    private const int FewestCells = 6;

    /// <summary>Rank correlation of strength with dose from which on a line has a direction.</summary>
    private const double ClearRank = 0.5;

    /// <summary>
    /// Share of the cells that are the weak end of a card, and most of the strongest marks that they have on a card which rises first.
    /// </summary>
    private const double WeakEnd = 0.15, MostAtWeakEnd = 0.8;

    /// <summary>Share of the strongest mark that a line must gain or lose with dose before its order means anything.</summary>
    private const double LeastChange = 0.1;

    /// <summary>How the marks of a card go with power and with time; too few cells go any way by chance.</summary>
    public static DoseTrend Of(EngravedCard card) => card.Marked.Count < FewestCells ? new(0, 0) : new(
        WithPower: TrendOf(card, cell => (cell.Cell.Card, cell.Cell.LnSpeed)),
        WithTime: TrendOf(card, cell => (cell.Cell.Card, Math.Round(cell.Cell.LnDose + cell.Cell.LnSpeed, 9))));

    /// <summary>True where the cells with the least energy are clearly weaker than the strongest: the peak lies inside the card.</summary>
    public static bool RisesFirst(EngravedCard card)
    {
        int few = Math.Max(2, (int)(WeakEnd * card.Marked.Count));
        double weak = card.Marked.OrderBy(cell => cell.Cell.LnDose).Take(few).Average(cell => cell.Strength);
        return weak < MostAtWeakEnd * card.Marked.OrderByDescending(cell => cell.Strength).Take(few).Average(cell => cell.Strength);
    }

    /// <summary>1 where most lines rise with dose, −1 where most fall, else 0.</summary>
    private static int TrendOf(EngravedCard card, Func<MarkedCell, (int, double)> lineOf)
    {
        double strongest = card.Marked.Max(cell => Math.Abs(cell.Strength));
        MarkedCell[][] lines = [.. card.Marked.GroupBy(lineOf)
            .Select(line => line.OrderBy(cell => cell.Cell.LnDose).ToArray()).Where(line => line.Length >= FewestInLine)];
        return Most(sign: -1) ? -1 : Most(sign: 1) ? 1 : 0;

        bool Most(int sign) => lines.Length > 0 && lines.Count(line => Runs(line, strongest, sign)) > lines.Length / 2;
    }

    private static bool Runs(MarkedCell[] byDose, double strongest, int sign)
    {
        int half = byDose.Length / 2;
        double gain = sign * (byDose[^half..].Average(cell => cell.Strength) - byDose[..half].Average(cell => cell.Strength));
        return gain > LeastChange * strongest
            && sign * Correlation.Spearman(byDose.Select(cell => cell.Cell.LnDose), byDose.Select(cell => cell.Strength))
                >= ClearRank - 1e-9;
    }
}
