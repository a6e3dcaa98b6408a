using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Cutting;

/// <summary>Logistic model of a side being through, in ln power and ln speed with free exponents, and the way the side runs.</summary>
/// <remarks>
/// logit p = a + b · ln power − c · ln speed + d · [along y], and terms for passes and focus where they vary
/// (<see cref="CutTerms"/>). b = c where only line energy counts; exp(−d / b) is the dose that sides along y need, over that
/// of sides along x. Every side adds its weight as trials, successes where it is through; Firth's penalty keeps the usual
/// clean staircase finite; probabilities come without it, from what is known of steps beforehand (<see cref="SteepnessPrior"/>).
/// docs/method/cut-scoring.md, "Model".
/// </remarks>
internal sealed class CutModel
{
    /// <summary>Cells whose sides weigh less than this, and are as the model has them, change nothing when they are left out.</summary>
    private const double NegligibleWeight = 5e-3;

    private const int SpreadRounds = 3;

    private readonly LogisticFit _fit;
    private readonly LogisticFit _predicting;
    private readonly CutTerms _terms;
    private readonly CutObservations _observed;
    private readonly Lazy<bool> _isSeparated;
    private readonly double _steepness;
    private readonly double _spread;

    private CutModel(LogisticFit fit, CutTerms terms, CutObservations observed, DesignEffect chance, double spread)
    {
        (_fit, _terms, _observed, Chance, _spread) = (fit, terms, observed, chance, spread);
        _steepness = SteepnessOf(Predicting(observed, terms, chance, CardPriors(terms, spread * SteepnessPrior.Exponent)), terms);
        _predicting = Predicting(observed, terms, chance, Priors);
        _isSeparated = new(() => fit.WithPenalty(0) is null);
    }

    /// <summary>How far sides of one cell fail together.</summary>
    public DesignEffect Chance { get; }

    /// <summary>Coefficient of ln power; its upper limit is infinite where the sides separate. Null where power does not vary.</summary>
    public Estimate? PowerExponent => ExponentOf(_terms.Power);

    /// <summary>Coefficient of −ln speed, likewise; null where speed does not vary.</summary>
    public Estimate? SpeedExponent => ExponentOf(_terms.Speed);

    /// <summary>Coefficient of ln passes, likewise; null where passes do not vary.</summary>
    public Estimate? PassesExponent => ExponentOf(_terms.Passes);

    /// <summary>False where some way of giving more energy does not open sides by best estimate: then settings have no order.</summary>
    public bool IsMonotone => ((int[])[_terms.Power, _terms.Speed, _terms.Passes])
        .All(term => term < 0 || (_fit.Coefficients[term] > 0 && _predicting.Coefficients[term] > 0));

    /// <summary>
    /// True where more power or less speed is shown, with 97.5 %, to close sides: a reversed axis, or another card's plan.
    /// </summary>
    public bool IsReversed => ((int[])[_terms.Power, _terms.Speed, _terms.Passes])
        .Any(term => term >= 0 && _fit.Coefficients[term] < 0 && _fit.ProfileLimit(term, isUpper: true) < 0);

    /// <summary>
    /// Dose that sides along y need over that of sides along x, with its 95 % interval; null where not both were judged,
    /// where power does not vary, or where the interval has no end.
    /// </summary>
    public Estimate? DoseRatioOfRuns
    {
        get
        {
            if (_terms.Direction < 0 || _terms.Power < 0) return null;
            return EstimateOf((b, gradient) =>
            {
                gradient.Clear();
                double ratio = -b[_terms.Direction] / b[_terms.Power];
                gradient[_terms.Direction] = -1 / b[_terms.Power];
                gradient[_terms.Power] = -ratio / b[_terms.Power];
                return ratio;
            }, Math.Exp);
        }
    }

    /// <summary>Penalised log-likelihood.</summary>
    public double LogLikelihood => _fit.LogLikelihood;

    /// <summary>
    /// Two-sided probability of exponents this far apart, were only line energy to count; null where not both are estimated.
    /// </summary>
    public double? EnergyOnlyProbability
    {
        get
        {
            if (_terms.Power < 0 || _terms.Speed < 0 || _fit.Covariance is not { } v) return null;
            (int power, int speed) = (_terms.Power, _terms.Speed);
            double error = Math.Sqrt(v[power, power] + v[speed, speed] - 2 * v[power, speed]);
            return 2 * Normal.CDF(0, 1, -Math.Abs(_fit.Coefficients[power] - _fit.Coefficients[speed]) / error);
        }
    }

    /// <summary>The fitted model; null where the card holds nothing to compare.</summary>
    public static CutModel? Fit(CutCard card)
    {
        CutTerms terms = CutTerms.Of(card);
        if (!terms.HasSettings) return null;
        CutObservations observed = CutObservations.Of(card, terms);
        LogisticFit plain =
            LogisticFit.Fit(NormalPrior.AddTo(observed.Data(1), CardPriors(terms, PieceSpread.Usual * SteepnessPrior.Exponent)));
        if (!plain.HasConverged || plain.Covariance is null) return null;

        DesignEffect chance = DesignEffect.Of(observed, plain.Coefficients);
        // Sides that fail together are fewer trials than sides: so many that the errors are as large as they must be.
        if (terms.Cards.Count == 0)
        {
            LogisticFit fit = chance.Inflation > 1 ? LogisticFit.Fit(observed.Data(chance.Inflation)) : plain;
            return fit.HasConverged ? new(fit, terms, observed, chance, PieceSpread.Usual) : null;
        }

        // How far cards differ and how steep the step is hang together a little: a few rounds settle them.
        double spread = PieceSpread.Usual;
        for (int round = 0; round < SpreadRounds; round++)
        {
            double steepness = SteepnessOf(plain, terms);
            plain = LogisticFit.Fit(NormalPrior.AddTo(observed.Data(chance.Inflation), CardPriors(terms, spread * steepness)));
            if (!plain.HasConverged || plain.Covariance is not { } covariance) return null;
            spread = PieceSpread.Of([.. terms.Cards.Select(card => plain.Coefficients[card] / steepness)],
                [.. terms.Cards.Select(card => covariance[card, card] / (steepness * steepness))]);
        }

        return new(plain, terms, observed, chance, spread);
    }

    /// <summary>
    /// Twice the ln likelihood that cards gain by a limit of each one's own, over limits that differ as pieces usually do.
    /// </summary>
    public static double GainOfOwnLimits(CutCard cards)
    {
        CutTerms terms = CutTerms.Of(cards);
        if (!terms.HasSettings) return 0;
        CutObservations observed = CutObservations.Of(cards, terms);
        LogisticFit start = Predicting(observed, terms, new(0, 1), CardPriors(terms, PieceSpread.Usual * SteepnessPrior.Exponent));
        DesignEffect chance = DesignEffect.Of(observed, start.Coefficients);
        LogisticFit own = Predicting(observed, terms, chance, CardPriors(terms, PieceSpread.Any * SteepnessPrior.Exponent));
        double steepness = SteepnessOf(own, terms);
        LogisticFit alike = Predicting(observed, terms, chance, CardPriors(terms, PieceSpread.Usual * steepness));
        return own.HasConverged && alike.HasConverged ? 2 * (own.LogLikelihood - alike.LogLikelihood) : 0;
    }

    /// <summary>Energy that an earlier card seems to have got, over that of the newest; null where they are not told apart.</summary>
    public Measured? DoseFactorOf(int card)
    {
        if (card >= _terms.Cards.Count || _fit.Covariance is not { } v) return null;
        (int own, int other) = (_terms.Cards[0], _terms.Cards[card]);
        double factor = Math.Exp((_fit.Coefficients[other] - _fit.Coefficients[own]) / _steepness);
        return Measured.Of(factor, factor * Math.Sqrt(Math.Max(0, v[own, own] + v[other, other] - 2 * v[own, other])) / _steepness);
    }

    /// <summary>
    /// What is known of each card's own chance, and of a new piece's (the last coefficient, which no observation touches).
    /// </summary>
    private (int Column, double Deviation)[] Priors =>
    [
        .. CardPriors(_terms, _spread * _steepness),
        (_terms.Count, (_terms.Cards.Count == 0 ? PieceSpread.FromOnePieceToAnother : _spread) * _steepness)
    ];

    private static (int Column, double Deviation)[] CardPriors(CutTerms terms, double deviation) =>
        [.. terms.Cards.Select(card => (card, deviation))];

    /// <summary>
    /// The fit behind probabilities: Firth's penalty would draw them towards ½. It helps only where sides of one way run away
    /// from those of the other. Its last coefficient is what a new piece needs less, which nothing but <see cref="PieceSpread"/> tells.
    /// </summary>
    private static LogisticFit Predicting(CutObservations observed, CutTerms terms, DesignEffect chance,
        (int Column, double Deviation)[] priors)
    {
        LogisticData data = PredictingData(observed, terms, chance, priors);
        LogisticFit plain = LogisticFit.Fit(data, isPenalised: false);
        return plain.HasConverged ? plain : LogisticFit.Fit(data);
    }

    private static LogisticData PredictingData(CutObservations observed, CutTerms terms, DesignEffect chance,
        (int Column, double Deviation)[] priors)
    {
        LogisticData known = SteepnessPrior.AddTo(observed.Data(chance.Inflation), terms);
        if (priors.Any(prior => prior.Column == terms.Count))
            known = known with { Design = [.. known.Design.Select(row => (double[])[.. row, 0])] };
        return NormalPrior.AddTo(known, priors);
    }

    /// <summary>Logits that a unit of ln dose brings: of power, or of what varies.</summary>
    private static double SteepnessOf(LogisticFit fit, CutTerms terms)
    {
        double steepest = 1;
        foreach (int term in (ReadOnlySpan<int>)[terms.Power, terms.Speed, terms.Passes])
        {
            if (term >= 0) steepest = Math.Max(steepest, fit.Coefficients[term]);
        }

        return steepest;
    }

    /// <summary>Logit of a side being through, by best estimate.</summary>
    public double SidePredictor(CutPoint point, CutDirection direction) => Predictor(_fit.Coefficients, _terms.RowAt(point, direction));

    /// <summary>Probability that a side is through, by best estimate.</summary>
    public double SideProbability(CutPoint point, CutDirection direction) => SpecialFunctions.Logistic(SidePredictor(point, direction));

    /// <summary>Probability that all four sides get energy enough, by best estimate.</summary>
    public double Through(CutPoint point) => Math.Exp(LnThrough(point)(_predicting.Coefficients, stackalloc double[_terms.Count + 1]));

    /// <summary>The same averaged over what is not known of it, with its 95 % interval.</summary>
    public Estimate Expected(CutPoint point) =>
        Estimate.OfProbability(Through(point), ThroughLimit(point, isUpper: false), ThroughLimit(point, isUpper: true));

    /// <summary>One end of that probability's 95 % interval, by profile likelihood.</summary>
    public double ThroughLimit(CutPoint point, bool isUpper) =>
        _predicting.Limit(LnThrough(point), isUpper) is { } ln ? Math.Exp(ln) : isUpper ? 1 : 0;

    /// <summary>Probability that all four sides are through, had one cell of the card not been judged.</summary>
    /// <param name="cell">Index of the cell left out.</param>
    /// <param name="point">The setting asked for.</param>
    public double ThroughWithout(int cell, CutPoint point)
    {
        ReadOnlySpan<double> rest = _observed.WeightOf(cell, _predicting) < NegligibleWeight
            ? _predicting.Coefficients
            : _predicting.CoefficientsFor(PredictingData(_observed.Without(cell), _terms, Chance, Priors));
        return Math.Exp(LnThrough(point)(rest, stackalloc double[_terms.Count + 1]));
    }

    /// <summary>Focus at which sides open with the least dose, mm; null where the card's focus offsets do not hold one inside.</summary>
    public double? BestFocusMm => _terms.BestFocusMm(_fit.Coefficients);

    /// <summary>
    /// Power, percent, at which the harder way a side runs is open with probability ½, with its interval; null where that has no end.
    /// </summary>
    /// <param name="point">Speed, passes and focus; its power does not matter.</param>
    public Estimate? HalfwayPower(CutPoint point)
    {
        if (_terms.Power < 0 || !(_fit.Coefficients[_terms.Power] > 0)) return null;
        CutDirection[] directions = _terms.Direction < 0 ? [CutDirection.AlongX] : [CutDirection.AlongX, CutDirection.AlongY];
        (CutDirection Direction, double LnPower)[] byNeed =
            [.. directions.Select(direction => (direction, LnHalfway(point, direction)(_fit.Coefficients, new double[_terms.Count])))
                .OrderByDescending(pair => pair.Item2)];
        if (EstimateOf(LnHalfway(point, byNeed[0].Direction), Math.Exp) is not { } harder) return null;
        if (byNeed.Length == 1 || Math.Exp(byNeed[1].LnPower) < harder.Low) return harder;
        // Which way is the harder is not settled: the larger of two figures lies above the larger of their lower limits.
        return EstimateOf(LnHalfway(point, byNeed[1].Direction), Math.Exp) is { } other
            ? new(harder.Value, Math.Max(harder.Low, other.Low), Math.Max(harder.High, other.High))
            : null;
    }

    private CoefficientFunction LnThrough(CutPoint point)
    {
        double[] alongX = [.. _terms.RowAt(point, CutDirection.AlongX), 1], alongY = [.. _terms.RowAt(point, CutDirection.AlongY), 1];
        return (coefficients, gradient) =>
        {
            double x = Predictor(coefficients, alongX), y = Predictor(coefficients, alongY);
            for (int j = 0; j < gradient.Length; j++)
                gradient[j] = 2 * (SpecialFunctions.Logistic(-x) * alongX[j] + SpecialFunctions.Logistic(-y) * alongY[j]);
            return 2 * (LnLogistic(x) + LnLogistic(y));
        };
    }

    private CoefficientFunction LnHalfway(CutPoint point, CutDirection direction) => (coefficients, gradient) =>
    {
        // Where the predictor is zero, a change of the coefficients is made good by the power.
        double middle = Predictor(coefficients, _terms.RowAt(point with { LnPower = 0 }, direction));
        double lnPower = -middle / coefficients[_terms.Power];
        double[] row = _terms.RowAt(point with { LnPower = lnPower }, direction);
        for (int j = 0; j < gradient.Length; j++) gradient[j] = -row[j] / coefficients[_terms.Power];
        return lnPower;
    };

    private Estimate? EstimateOf(CoefficientFunction figure, Func<double, double> shown) =>
        _fit.Limit(figure, isUpper: false) is { } low && _fit.Limit(figure, isUpper: true) is { } high && low < high
            ? new(shown(figure(_fit.Coefficients, new double[_terms.Count])), shown(low), shown(high))
            : null;

    /// <summary>
    /// Where sides through and held separate, no step is too steep for the card: the limit that Firth's penalty would give
    /// there is the penalty's own.
    /// </summary>
    private Estimate? ExponentOf(int term) =>
        term >= 0 && _fit.ProfileLimit(term, isUpper: false) is { } low
            ? new(_fit.Coefficients[term], low,
                (_isSeparated.Value ? null : _fit.ProfileLimit(term, isUpper: true)) ?? double.PositiveInfinity)
            : null;

    private static double Predictor(ReadOnlySpan<double> coefficients, double[] row)
    {
        double sum = 0;
        for (int j = 0; j < row.Length; j++) sum += row[j] * coefficients[j];
        return sum;
    }

    private static double LnLogistic(double predictor) => Math.Min(predictor, 0) - Math.Log(1 + Math.Exp(-Math.Abs(predictor)));
}
