using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>The sides of a card as observations: one for each cell and way its sides run.</summary>
/// <param name="Cells">Index of each observation's cell.</param>
/// <param name="Design">Rows of the design.</param>
/// <param name="Open">Weights of the sides that are through.</param>
/// <param name="Weights">Sum of the weights.</param>
internal sealed record CutObservations(int[] Cells, double[][] Design, double[] Open, double[] Weights)
{
    /// <summary>Sides of one cell that run the same way share their predictor, so they are one observation of more trials.</summary>
    public static CutObservations Of(CutCard card, CutTerms terms)
    {
        (int Cell, double[] Row, double Open, double Weight)[] all = [.. card.Cells.SelectMany((cell, i) => cell.Sides
            .GroupBy(side => side.Run)
            .Select(group => (i, terms.RowAt(cell.Point, group.Key), group.Where(side => side.IsThrough).Sum(side => side.Weight), group.Sum(side => side.Weight))))];
        return new([.. all.Select(o => o.Cell)], [.. all.Select(o => o.Row)], [.. all.Select(o => o.Open)], [.. all.Select(o => o.Weight)]);
    }

    /// <summary>The observations of the other cells.</summary>
    public CutObservations Without(int cell)
    {
        int[] kept = [.. Enumerable.Range(0, Cells.Length).Where(i => Cells[i] != cell)];
        return new([.. kept.Select(i => Cells[i])], [.. kept.Select(i => Design[i])], [.. kept.Select(i => Open[i])], [.. kept.Select(i => Weights[i])]);
    }

    /// <summary>What a cell pulls at a fit: the variance of its sides, and how far they are from what the fit expects.</summary>
    public double WeightOf(int cell, LogisticFit fit)
    {
        double sum = 0;
        for (int i = 0; i < Cells.Length; i++)
        {
            if (Cells[i] != cell) continue;
            double p = ProbabilityAt(fit, i);
            sum += Weights[i] * p * (1 - p) + Math.Abs(Open[i] - Weights[i] * p);
        }

        return sum;
    }

    /// <summary>Probability that an observation's sides are open, by a fit.</summary>
    public double ProbabilityAt(LogisticFit fit, int observation)
    {
        double sum = 0;
        double[] row = Design[observation];
        for (int j = 0; j < row.Length; j++) sum += row[j] * fit.Coefficients[j];
        return 1 / (1 + Math.Exp(-sum));
    }

    /// <summary>Data for a fit whose variance is to be larger by a factor.</summary>
    public LogisticData Data(double inflation) =>
        new(Design, [.. Open.Select(open => open / inflation)], [.. Weights.Select(weight => weight / inflation)]);
}
