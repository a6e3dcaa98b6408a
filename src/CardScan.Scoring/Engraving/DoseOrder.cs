using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Engraving;

/// <summary>Whether marks get stronger with dose along the card's rows and along its columns.</summary>
internal static class DoseOrder
{
    /// <summary>Fewer cells of a line may stand in any order by chance.</summary>
    private const int FewestInLine = 3;

    private const int FewestCells = 6;

    /// <summary>Rank correlation of strength with dose below which a line runs the wrong way.</summary>
    private const double WrongRank = -0.5;

    /// <summary>Share of the strongest mark that a line must lose with dose before its order means anything.</summary>
    private const double LeastLoss = 0.1;

    /// <summary>
    /// True where the marks of most rows, or of most columns, weaken with dose: a fault of the plan (an axis reversed, the
    /// plan of another card) far more often than of the material. The two are judged apart, since one reversed axis leaves
    /// the other's order right.
    /// </summary>
    public static bool IsReversed(EngravedCard card) =>
        card.Marked.Count >= FewestCells
        && (IsReversed(card, cell => cell.Cell.Address.Row) || IsReversed(card, cell => cell.Cell.Address.Column));

    private static bool IsReversed(EngravedCard card, Func<MarkedCell, int> lineOf)
    {
        double strongest = card.Marked.Max(cell => Math.Abs(cell.Strength));
        MarkedCell[][] lines = [.. card.Marked.GroupBy(lineOf).Select(line => line.OrderBy(cell => cell.Cell.LnDose).ToArray()).Where(line => line.Length >= FewestInLine)];
        return lines.Length > 0 && lines.Count(line => RunsBackwards(line, strongest)) > lines.Length / 2;
    }

    private static bool RunsBackwards(MarkedCell[] byDose, double strongest)
    {
        int half = byDose.Length / 2;
        double loss = byDose[..half].Average(cell => cell.Strength) - byDose[^half..].Average(cell => cell.Strength);
        return loss > LeastLoss * strongest
            && Correlation.Spearman(byDose.Select(cell => cell.Cell.LnDose), byDose.Select(cell => cell.Strength)) < WrongRank;
    }
}
