namespace CardScan.Scoring.Engraving;

/// <summary>A cell that stands out from a fit.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Residual">Its mark less the fitted one, in mark strength.</param>
internal sealed record Suspect(MarkedCell Cell, double Residual);

/// <summary>Which of the cells that stand out may be accidents (a knot, dirt, a flame mark): the others are the material's doing.</summary>
/// <remarks>
/// An accident hits a cell whatever its dose. What stands out at the top of the dose order is never taken for one: the mark
/// may go on growing there, or weaken. Nor are marks that are too strong side by side, nor one beside which others are
/// too strong as well, nor any that is too strong on a small card: all of these are what a law looks like that is not among
/// the fitted ones. docs/method/engrave-scoring.md, "Accidents".
/// </remarks>
internal static class Accidents
{
    /// <summary>
    /// Cells that have at least as much dose, and do not stand out: fewer leave open whether more dose would do the same.
    /// </summary>
    private const int FewestAbove = 2;

    /// <summary>Cells beside it: fewer do not show that it stands alone.</summary>
    private const int FewestBeside = 3;

    /// <summary>Smallest card on which a mark may be too strong by accident.</summary>
    private const int FewestForStrong = 16;

    /// <summary>
    /// A neighbour with this part of the excess shares it; two in a hundred do by chance where a suspect is four deviations off.
    /// </summary>
    private const double SharedPart = 0.5;

    /// <summary>The suspects that may be left out.</summary>
    public static List<MarkedCell> Among(List<Suspect> suspects, EngravedCard card, Func<MarkedCell, double> residualOf)
    {
        HashSet<MarkedCell> standOut = [.. suspects.Select(suspect => suspect.Cell)];
        List<Suspect> left = [.. suspects.Where(MayBeAccident)];
        // A cluster goes or stays as one: what is kept of it keeps its neighbours.
        while (left.RemoveAll(suspect =>
            suspects.Any(other => !left.Contains(other) && IsSameSide(suspect, other) && other.Cell.Cell.IsBeside(suspect.Cell.Cell))) > 0)
        {
        }

        return [.. left.Select(suspect => suspect.Cell)];

        bool MayBeAccident(Suspect suspect)
        {
            MarkedCell[] beside = [.. card.Marked.Where(cell => cell.Cell.IsBeside(suspect.Cell.Cell))];
            if (beside.Length < FewestBeside) return false;
            if (card.Marked.Count(cell => suspect.Cell.Cell.HasNoMoreThan(cell.Cell) && !standOut.Contains(cell)) < FewestAbove)
                return false;
            return suspect.Residual < 0
                || (card.Marked.Count >= FewestForStrong && !beside.Any(cell => residualOf(cell) > SharedPart * suspect.Residual));
        }
    }

    private static bool IsSameSide(Suspect one, Suspect other) => one.Residual > 0 == other.Residual > 0;
}
