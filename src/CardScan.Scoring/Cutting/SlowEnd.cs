using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics;

namespace CardScan.Scoring.Cutting;

/// <summary>Where sides close again with too much energy: a second logistic step, that of being still through.</summary>
/// <remarks>docs/method/cut-scoring.md, "The slow end".</remarks>
internal sealed class SlowEnd
{
    private const int SidesOfACell = 4;

    private readonly SlowTerms _terms;
    private readonly LogisticFit _fit;
    private readonly int _piece;

    private SlowEnd(SlowTerms terms, LogisticFit fit, int piece) => (_terms, _fit, _piece) = (terms, fit, piece);

    /// <summary>Null where the card does not close again, or shows no more of it than that.</summary>
    public static SlowEnd? Of(CutCard card)
    {
        if (!card.ClosesAgain) return null;
        SlowTerms terms = new(card);
        CutCell[] cells = [.. card.Cells.Where(cell => cell.Sides.Any(side => !side.IsBridged))];
        double[] open = [.. cells.Select(cell => cell.Sides.Where(side => side.IsThrough).Sum(Vote))],
            all = [.. cells.Select(cell => cell.Sides.Sum(Vote))];
        CutObservations observed =
            new([.. Enumerable.Range(0, cells.Length)], [.. cells.Select(cell => terms.RowAt(cell.Point))], open, all);
        LogisticFit plain = LogisticFit.Fit(terms.WithUsual(observed.Data(1)), isPenalised: false);
        DesignEffect chance = DesignEffect.Of(observed, plain.Coefficients);
        // A new piece closes a little earlier or later than this one.
        int piece = terms.Count;
        double steepness = Enumerable.Range(1, terms.Count - 1).Max(term => Math.Abs(plain.Coefficients[term]));
        LogisticData wide = new([.. observed.Design.Select(row => (double[])[.. row, 0])], open, all);
        double[] shares = [.. all.Select(_ => 1 / chance.Inflation)];
        wide = new(
            wide.Design, [.. wide.Successes.Zip(shares, (x, share) => x * share)], [.. wide.Trials.Zip(shares, (x, share) => x * share)]);
        LogisticFit fit = LogisticFit.Fit(
            NormalPrior.AddTo(terms.WithUsual(wide), [(piece, PieceSpread.FromOnePieceToAnother * Math.Max(1, steepness))]),
            isPenalised: false);
        return fit.HasConverged ? new(terms, fit, piece) : null;

        static double Vote(CutSide side) => side.IsBridged ? 0 : side.Weight * side.SlowVote;
    }

    /// <summary>Probability that all four sides are still through, by best estimate.</summary>
    public double StillThrough(CutPoint point) => Math.Exp(LnThrough(point)(_fit.Coefficients, stackalloc double[_piece + 1]));

    /// <summary>The same with its 95 % interval, on a new piece.</summary>
    public Estimate Expected(CutPoint point) =>
        Estimate.OfProbability(StillThrough(point), Limit(point, isUpper: false), Limit(point, isUpper: true));

    /// <summary>One end of that interval.</summary>
    public double Limit(CutPoint point, bool isUpper) => _fit.Limit(LnThrough(point), isUpper) is { } ln ? Math.Exp(ln) : isUpper ? 1 : 0;

    /// <summary>Its exponents, positive where more of it closes sides: for the reading.</summary>
    public IEnumerable<KeyValuePair<string, Measured>> Parameters =>
        _terms.Named.Select(term => KeyValuePair.Create($"closesAgain{term.Name}Exponent",
            Measured.Of(-_fit.Coefficients[term.Index], Math.Sqrt(_fit.Covariance![term.Index, term.Index]))));

    /// <summary>
    /// ln of the energy (percent · passes · min / mm) at which half of the sides have closed again, least and most over the
    /// card's speeds; null where its powers and speeds do not vary both.
    /// </summary>
    public (double Least, double Most)? LnEnergies(CutCard card)
    {
        double[] all = [.. card.Cells.Select(cell => cell.Point).DistinctBy(point => point.LnSpeed)
            .Select(point => _terms.LnEnergyWhereHalf(point, _fit.Coefficients)).OfType<double>()];
        return all.Length == 0 ? null : (all.Min(), all.Max());
    }

    private CoefficientFunction LnThrough(CutPoint point)
    {
        double[] row = [.. _terms.RowAt(point), 1];
        return (coefficients, gradient) =>
        {
            double predictor = 0;
            for (int j = 0; j < row.Length; j++) predictor += row[j] * coefficients[j];
            for (int j = 0; j < row.Length; j++) gradient[j] = SidesOfACell * SpecialFunctions.Logistic(-predictor) * row[j];
            return SidesOfACell * (Math.Min(predictor, 0) - Math.Log(1 + Math.Exp(-Math.Abs(predictor))));
        };
    }
}
