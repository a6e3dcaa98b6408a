using CardScan.Scoring.Fitting;
using MathNet.Numerics;

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
        (int Cell, double[] Row, double Open, double Weight)[] all = [.. card.Cells.SelectMany((cell, i) => cell.DoseSides
            .GroupBy(side => side.Direction)
            .Select(group => (
                i, terms.RowAt(cell.Point, group.Key, cell.Card),
                group.Where(side => side.IsThrough).Sum(side => side.Weight * side.FastVote),
                group.Sum(side => side.Weight * side.FastVote))))
            .Where(one => one.Item4 > 0)];
        return new([.. all.Select(o => o.Cell)], [.. all.Select(o => o.Row)], [.. all.Select(o => o.Open)], [.. all.Select(o => o.Weight)]);
    }

    /// <summary>True where some sides are through and some are held.</summary>
    public bool IsMixed => Open.Any(open => open > 0) && Open.Zip(Weights).Any(pair => pair.First < pair.Second);

    /// <summary>The observations of the other cells.</summary>
    public CutObservations Without(int cell)
    {
        int[] kept = [.. Enumerable.Range(0, Cells.Length).Where(i => Cells[i] != cell)];
        return new([.. kept.Select(i => Cells[i])], [.. kept.Select(i => Design[i])], [.. kept.Select(i => Open[i])],
            [.. kept.Select(i => Weights[i])]);
    }

    /// <summary>What a cell pulls at a fit: the variance of its sides, and how far they are from what the fit expects.</summary>
    public double WeightOf(int cell, LogisticFit fit)
    {
        double sum = 0;
        for (int i = 0; i < Cells.Length; i++)
        {
            if (Cells[i] != cell) continue;
            double p = ProbabilityAt(fit.Coefficients, i);
            sum += Weights[i] * p * (1 - p) + Math.Abs(Open[i] - Weights[i] * p);
        }

        return sum;
    }

    /// <summary>Probability that an observation's sides are through, by a fit.</summary>
    public double ProbabilityAt(ReadOnlySpan<double> coefficients, int observation) =>
        SpecialFunctions.Logistic(PredictorAt(coefficients, observation));

    /// <summary>Twice the log-likelihood that each cell costs at some coefficients.</summary>
    public double[] DeviancesBy(ReadOnlySpan<double> coefficients, int cells)
    {
        double[] deviances = new double[cells];
        for (int i = 0; i < Cells.Length; i++) deviances[Cells[i]] += Deviance(i, PredictorAt(coefficients, i));
        return deviances;
    }

    /// <summary>The least that a cell costs where its predictors may be off by any one shift.</summary>
    public double DevianceAlone(int cell, ReadOnlySpan<double> coefficients)
    {
        const double FarthestShift = 200;
        int[] own = [.. Enumerable.Range(0, Cells.Length).Where(i => Cells[i] == cell)];
        double[] predictors = new double[own.Length];
        for (int k = 0; k < own.Length; k++) predictors[k] = PredictorAt(coefficients, own[k]);
        (double low, double high) = (-FarthestShift, FarthestShift);
        // The excess of sides through falls with the shift, so its zero is found by halving.
        for (int round = 0; round < 40; round++)
        {
            double middle = (low + high) / 2;
            double excess = own.Select((i, k) => Open[i] - Weights[i] * SpecialFunctions.Logistic(predictors[k] + middle)).Sum();
            if (excess > 0) low = middle;
            else high = middle;
        }

        return own.Select((i, k) => Deviance(i, predictors[k] + low)).Sum();
    }

    private double Deviance(int observation, double predictor) =>
        2 * (Weights[observation] * (Math.Max(predictor, 0) + Math.Log(1 + Math.Exp(-Math.Abs(predictor))))
            - Open[observation] * predictor);

    private double PredictorAt(ReadOnlySpan<double> coefficients, int observation)
    {
        double sum = 0;
        double[] row = Design[observation];
        for (int j = 0; j < row.Length; j++) sum += row[j] * coefficients[j];
        return sum;
    }

    /// <summary>Data for a fit whose variance is to be larger by a factor.</summary>
    public LogisticData Data(double inflation) =>
        new(Design, [.. Open.Select(open => open / inflation)], [.. Weights.Select(weight => weight / inflation)]);
}
