namespace CardScan.Scoring.Engraving;

/// <summary>A fall at the highest doses that hangs on the place: a shadow or dirt over a corner of the card.</summary>
/// <remarks>
/// A law depends on dose alone. Where a weak cell next to the fallen ones contradicts it, since others of its dose are
/// strong, all of them lie under one cover.
/// </remarks>
internal static class FallByPlace
{
    /// <summary>The fallen cells and those beside them that contradict the law; none where the fall goes by dose.</summary>
    /// <param name="choice">The laws.</param>
    /// <param name="estimates">What they say of the used cells, in their order.</param>
    /// <param name="fullMarkShare">Share of the strongest mark below which a cell past the peak has fallen.</param>
    public static IReadOnlyList<MarkedCell> CellsOf(LawChoice choice, MarkEstimate[] estimates, double fullMarkShare)
    {
        LawFit fit = choice.Best;
        if (!fit.IsPeaked) return [];
        double lnPeak = Math.Log(fit.Peak) + fit.Law.LnHighestDose(fit.Parameters);
        MarkedCell[] fallen =
            [.. estimates.Where((cell, i) => cell.Share < fullMarkShare && fit.Law.LnEffectiveDose(fit.Parameters, i) > lnPeak)
                .Select(cell => cell.Marked)];
        MarkedCell[] against =
            [.. choice.Outliers.Where(IsWeak), .. estimates.Where(cell => cell.IsContradicted).Select(cell => cell.Marked)];
        MarkedCell[] beside = [.. against.Where(cell => fallen.Any(other => other.Cell.IsBeside(cell.Cell)))];
        return beside.Length == 0 ? [] : [.. fallen.Union(beside)];

        bool IsWeak(MarkedCell cell)
        {
            int index = choice.Card.Burned.Index().First(pair => pair.Item == cell.Cell).Index;
            return cell.Strength < fit.StrengthAt(fit.Parameters, index);
        }
    }
}
