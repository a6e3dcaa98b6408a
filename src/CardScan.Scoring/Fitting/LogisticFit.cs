namespace CardScan.Scoring.Fitting;

/// <summary>Observations of a logistic regression.</summary>
/// <param name="Design">Observations × coefficients; a column of ones is the intercept.</param>
/// <param name="Successes">Successes of each observation, 0 to its trials; may be a fraction.</param>
/// <param name="Trials">Trials, or weight, of each observation.</param>
internal sealed record LogisticData(double[][] Design, double[] Successes, double[] Trials)
{
    public int Coefficients => Design[0].Length;
}

/// <summary>A figure that follows from the coefficients.</summary>
/// <param name="coefficients">The coefficients.</param>
/// <param name="gradient">Takes its derivative by each of them.</param>
/// <returns>Its value.</returns>
internal delegate double CoefficientFunction(ReadOnlySpan<double> coefficients, Span<double> gradient);

/// <summary>
/// Logistic regression, plain or with Firth's penalty, which keeps it finite and nearly unbiased where the data separate.
/// </summary>
/// <remarks>
/// D. Firth, Biometrika 80 (1993) 27–38; G. Heinze, M. Schemper, Stat. Med. 21 (2002) 2409–2419: maximises
/// log L + ½ log |I| by scoring with the modified score Σ x (y − n p + h (½ − p)), h the leverages. Covariance is the
/// inverse Fisher information at the estimate.
/// </remarks>
internal sealed class LogisticFit
{
    private const double FirthPenalty = 0.5;

    private const int MostSteps = 200;
    private const double StepTolerance = 1e-9;

    private const double CoarseTolerance = 1e-3;

    /// <summary>Steps from a penalised estimate to the plain one where there is one; more mean that it runs away.</summary>
    private const int MostStepsToPlain = 25;

    private const int MostLimitSteps = 100;
    private const double LimitTolerance = 1e-7;
    private const double LikelihoodTolerance = 1e-6;

    /// <summary>A step may fall this far below the limit's likelihood; one that falls further is halved.</summary>
    private const double DeepestFall = 1.5;

    private const double ChiSquare95 = 3.841458820694124;   // one degree of freedom

    private readonly LogisticData _data;
    private readonly LogisticPoint _best;
    private readonly double _penalty;

    private LogisticFit(LogisticData data, LogisticPoint best, double penalty, bool hasConverged) =>
        (_data, _best, _penalty, HasConverged) = (data, best, penalty, hasConverged);

    public ReadOnlySpan<double> Coefficients => _best.Coefficients;

    /// <summary>Penalised log-likelihood, or the plain one without penalty; binomial coefficients left out.</summary>
    public double LogLikelihood => _best.LogLikelihood;

    /// <summary>Covariance of the coefficients; null where the design is singular.</summary>
    public double[,]? Covariance => _best.Inverse;

    /// <summary>False where the estimate runs away, as the plain one does on separated data.</summary>
    public bool HasConverged { get; }

    /// <summary>Fits all coefficients.</summary>
    /// <param name="data">The observations.</param>
    /// <param name="isPenalised">With Firth's penalty, or without.</param>
    public static LogisticFit Fit(LogisticData data, bool isPenalised = true)
    {
        double penalty = isPenalised ? FirthPenalty : 0;
        (LogisticPoint best, bool hasConverged) =
            Maximise(LogisticPoint.At(data, new double[data.Coefficients], penalty), held: -1, StepTolerance);
        return new(data, best, penalty, hasConverged);
    }

    /// <summary>The fit to the same data with another share of ln |I| as penalty: ½ is Firth's, 0 none.</summary>
    /// <returns>Null where there is no such estimate: without a penalty, where the data separate.</returns>
    public LogisticFit? WithPenalty(double penalty)
    {
        LogisticPoint start = LogisticPoint.At(_data, Coefficients.ToArray(), penalty);
        (LogisticPoint best, bool hasConverged) = Maximise(start, held: -1, StepTolerance, penalty > 0 ? MostSteps : MostStepsToPlain);
        return hasConverged ? new(_data, best, penalty, hasConverged) : null;
    }

    /// <summary>Coefficients of a fit to data that differ little, to about a thousandth: for comparing, not for intervals.</summary>
    public double[] CoefficientsFor(LogisticData other) =>
        Maximise(LogisticPoint.At(other, Coefficients.ToArray(), _penalty), held: -1,
            CoarseTolerance * Coefficients.ToArray().Max(Math.Abs)).Best.Coefficients;

    /// <summary>Coefficients a few steps of plain scoring nearer to the maximum: for fits inside of a longer search.</summary>
    /// <param name="data">The observations.</param>
    /// <param name="start">Where to start.</param>
    /// <param name="steps">How many steps.</param>
    public static double[] Climb(LogisticData data, double[] start, int steps) =>
        Maximise(LogisticPoint.At(data, start, penalty: 0), held: -1, StepTolerance, steps).Best.Coefficients;

    /// <summary>Twice what the log-likelihood loses when one coefficient is held and the others are fitted again.</summary>
    public double LossAt(int coefficient, double value)
    {
        double[] start = Coefficients.ToArray();
        start[coefficient] = value;
        return 2 * (LogLikelihood - Maximise(LogisticPoint.At(_data, start, _penalty), coefficient, StepTolerance).Best.LogLikelihood);
    }

    /// <summary>One limit of a coefficient's 95 % profile-likelihood interval; null where none was found.</summary>
    public double? ProfileLimit(int coefficient, bool isUpper) => Limit(
        (coefficients, gradient) =>
        {
            gradient.Clear();
            gradient[coefficient] = 1;
            return coefficients[coefficient];
        }, isUpper);

    /// <summary>One limit of the 95 % profile-likelihood interval of a figure that follows from the coefficients.</summary>
    /// <param name="figure">The figure; smooth where the likelihood is not negligible.</param>
    /// <param name="isUpper">Upper or lower limit.</param>
    /// <returns>The limit; null where the likelihood does not fall far enough for one.</returns>
    /// <remarks>
    /// The limit is the largest (smallest) value among coefficients whose log-likelihood is at most χ²/2 below the
    /// maximum. Each step solves that for a quadratic likelihood and a linear figure, as D. J. Venzon, S. H. Moolgavkar,
    /// Appl. Stat. 37 (1988) 87–94 do for a coefficient; no inner fit is needed.
    /// </remarks>
    public double? Limit(CoefficientFunction figure, bool isUpper)
    {
        if (Covariance is null) return null;
        double floor = LogLikelihood - ChiSquare95 / 2;
        double[] gradient = new double[_data.Coefficients];
        LogisticPoint at = _best;
        for (int step = 0; step < MostLimitSteps; step++)
        {
            double value = figure(at.Coefficients, gradient);
            if (at.Inverse is null || !double.IsFinite(value)) return null;
            double[] upwards = at.Times(at.Score), along = at.Times(gradient);
            double slope = Vectors.Dot(gradient, along);
            double room = at.LogLikelihood + Vectors.Dot(at.Score, upwards) / 2 - floor;
            double push = (isUpper ? 1 : -1) * Math.Sqrt(2 * Math.Max(0, room) / slope);
            double[] move = [.. upwards.Select((up, j) => up + push * along[j])];
            if (Math.Abs(at.LogLikelihood - floor) < LikelihoodTolerance
                && Math.Abs(Vectors.Dot(gradient, move)) < LimitTolerance * Math.Sqrt(slope))
                return value;

            LogisticPoint next = at.Moved(move, 1);
            for (double factor = 0.5; !(next.LogLikelihood > Math.Min(floor, at.LogLikelihood) - DeepestFall) && factor > 1e-3; factor /= 2)
                next = at.Moved(move, factor);
            at = next;
        }

        return null;
    }

    private static (LogisticPoint Best, bool HasConverged) Maximise(LogisticPoint start, int held, double tolerance,
        int mostSteps = MostSteps)
    {
        LogisticPoint at = start;
        for (int step = 0; step < mostSteps; step++)
        {
            if (at.Inverse is null) return (at, false);
            double[] move = at.Times(at.Score);
            if (held >= 0) Hold(move, at.Inverse, held);
            double largest = move.Max(Math.Abs);
            if (!double.IsFinite(largest)) return (at, false);
            double factor = Math.Min(1, 5 / Math.Max(largest, 1e-300));
            LogisticPoint next = at.Moved(move, factor);
            // Halve until it does not get worse; the tolerance lets rounding pass at the maximum.
            for (int halving = 0; halving < 30 && !(next.LogLikelihood >= at.LogLikelihood - 1e-12 * Math.Abs(at.LogLikelihood)); halving++)
            {
                factor /= 2;
                next = at.Moved(move, factor);
            }

            at = next;
            if (largest < tolerance) return (at, at.Coefficients.All(value => Math.Abs(value) < 1e6));
        }

        return (at, false);
    }

    /// <summary>Takes from a step what would move one coefficient, so that it is the step of the others alone.</summary>
    private static void Hold(double[] move, double[,] inverse, int held)
    {
        double share = move[held] / inverse[held, held];
        for (int j = 0; j < move.Length; j++) move[j] -= share * inverse[j, held];
        move[held] = 0;
    }
}
