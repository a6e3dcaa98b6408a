using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>The sides of a card as observations: one for each cell and way its sides run.</summary>
/// <param name="Cells">Index of each observation's cell.</param>
/// <param name="Design">Rows of the design.</param>
/// <param name="Open">Open share, summed over the sides by their weights.</param>
/// <param name="Weights">Sum of the weights.</param>
internal sealed record CutObservations(int[] Cells, double[][] Design, double[] Open, double[] Weights)
{
    /// <summary>Sides of one cell that run the same way share their predictor, so they are one observation of more trials.</summary>
    public static CutObservations Of(CutCard card, CutTerms terms)
    {
        (int Cell, double[] Row, double Open, double Weight)[] all = [.. card.Cells.SelectMany((cell, i) => cell.Sides
            .GroupBy(side => side.Run)
            .Select(group => (i, terms.RowAt(cell.Point, group.Key), group.Sum(side => side.OpenFraction * side.Weight), group.Sum(side => side.Weight))))];
        return new([.. all.Select(o => o.Cell)], [.. all.Select(o => o.Row)], [.. all.Select(o => o.Open)], [.. all.Select(o => o.Weight)]);
    }

    public LogisticData Data(double inflation) =>
        new(Design, [.. Open.Select(open => open / inflation)], [.. Weights.Select(weight => weight / inflation)]);
}

/// <summary>How far the sides of one cell are open or held together beyond what their setting explains: grain, glue, warp.</summary>
/// <param name="Correlation">Correlation between two sides of a cell, 0 to 1, by its moments.</param>
/// <param name="Inflation">Times by which the variance of estimates grows: 1 + (sides − 1) · correlation (Kish's design effect).</param>
internal sealed record CellChance(double Correlation, double Inflation)
{
    public static CellChance Of(CutObservations observed, LogisticFit fit)
    {
        double common = 0, possible = 0, sides = 0, sidesSquared = 0;
        foreach (IGrouping<int, int> cell in Enumerable.Range(0, observed.Cells.Length).GroupBy(i => observed.Cells[i]))
        {
            double excess = 0, variance = 0, deviation = 0, weight = 0;
            foreach (int i in cell)
            {
                double p = ProbabilityAt(fit, observed.Design[i]), trials = observed.Weights[i];
                excess += observed.Open[i] - trials * p;
                variance += trials * p * (1 - p);
                deviation += trials * Math.Sqrt(p * (1 - p));
                weight += trials;
            }

            common += excess * excess - variance;
            possible += deviation * deviation - variance;
            sides += variance;
            sidesSquared += variance * weight;
        }

        if (!(possible > 0) || !(sides > 0)) return new(0, 1);
        double correlation = Math.Clamp(common / possible, 0, 1);
        return new(correlation, 1 + Math.Max(0, sidesSquared / sides - 1) * correlation);
    }

    private static double ProbabilityAt(LogisticFit fit, double[] row)
    {
        double sum = 0;
        for (int j = 0; j < row.Length; j++) sum += row[j] * fit.Coefficients[j];
        return 1 / (1 + Math.Exp(-sum));
    }
}
