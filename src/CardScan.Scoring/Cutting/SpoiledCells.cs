using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Cutting;

/// <summary>Finds the cells that do not fit the others: a knot, a line of glue, a gust of air.</summary>
/// <remarks>
/// One cell at a time, the worst first: a likelihood ratio of a dose of that cell's own against the common one, at 2 % for
/// the card as a whole (Bonferroni). Where more than one cell in ten would have to go, none does: so many are no
/// accidents. docs/method/cut-scoring.md, "Spoiled cells".
/// </remarks>
internal static class SpoiledCells
{
    private const double Level = 0.02;

    /// <summary>Cells of the largest deviance that are tried: one of them gains most by going.</summary>
    private const int Tried = 3;

    public static ValueList<CutCell> Of(CutCard card)
    {
        CutTerms terms = CutTerms.Of(card);
        if (!terms.HasSettings) return [];
        double limit = ChiSquared.InvCDF(1, 1 - Level / card.Cells.Count);
        CutObservations rest = CutObservations.Of(card, terms);
        List<CutCell> spoiled = [];
        while (WorstOf(rest, card.Cells.Count, limit) is { } worst)
        {
            spoiled.Add(card.Cells[worst]);
            rest = rest.Without(worst);
            if (spoiled.Count > Math.Max(1, card.Cells.Count / 10) || !rest.IsMixed) return [];
        }

        return spoiled.ToValueList();
    }

    private static int? WorstOf(CutObservations observed, int cells, double limit)
    {
        LogisticFit fit = LogisticFit.Fit(observed.Data(1));
        if (!fit.HasConverged) return null;
        double[] deviances = observed.DeviancesBy(fit.Coefficients, cells);
        (int Cell, double Gain) worst = Enumerable.Range(0, cells)
            .Where(cell => deviances[cell] > limit / 2).OrderByDescending(cell => deviances[cell]).Take(Tried)
            .Select(cell => (cell, GainWithout(cell)))
            .DefaultIfEmpty((-1, 0)).MaxBy(pair => pair.Item2);
        return worst.Gain > limit ? worst.Cell : null;

        double GainWithout(int cell)
        {
            CutObservations others = observed.Without(cell);
            double[] coefficients = fit.CoefficientsFor(others.Data(1));
            double gain = deviances.Sum() - others.DeviancesBy(coefficients, cells).Sum() - observed.DevianceAlone(cell, coefficients);
            // Sides that fail together are fewer trials than sides.
            return gain / CellChance.Of(others, coefficients).Inflation;
        }
    }
}
