using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Fitting;

/// <summary>Observations of a logistic regression.</summary>
/// <param name="Design">Observations × coefficients; a column of ones is the intercept.</param>
/// <param name="Successes">Successes of each observation, 0 to its trials; may be a fraction.</param>
/// <param name="Trials">Trials, or weight, of each observation.</param>
internal sealed record LogisticData(double[][] Design, double[] Successes, double[] Trials)
{
    public int Coefficients => Design[0].Length;

    /// <summary>The same with the intercept (column 0) moved to where the predictor of some setting is.</summary>
    public LogisticData CentredOn(double[] setting) =>
        this with { Design = [.. Design.Select(row => row.Select((x, j) => j == 0 ? x : x - row[0] * setting[j]).ToArray())] };
}

/// <summary>Logistic regression, plain or with Firth's penalty, which keeps it finite and nearly unbiased where the data separate.</summary>
/// <remarks>
/// D. Firth, Biometrika 80 (1993) 27–38; G. Heinze, M. Schemper, Stat. Med. 21 (2002) 2409–2419: maximises
/// log L + ½ log |I| by scoring with the modified score Σ x (y − n p + h (½ − p)), h the leverages. Covariance is the
/// inverse Fisher information at the estimate.
/// </remarks>
internal sealed class LogisticFit
{
    private const int MostSteps = 200;
    private const double StepTolerance = 1e-9;

    // At its maximum the likelihood is flat: a step this small changes a profile by its square.
    private const double ProfileStepTolerance = 1e-5;
    private const double ChiSquare95 = 3.841458820694124;   // one degree of freedom

    private readonly LogisticData _data;
    private readonly double[] _coefficients;
    private readonly bool _isPenalised;

    private LogisticFit(LogisticData data, double[] coefficients, bool isPenalised, double logLikelihood, Matrix<double>? covariance, bool hasConverged) =>
        (_data, _coefficients, _isPenalised, LogLikelihood, Covariance, HasConverged) =
            (data, coefficients, isPenalised, logLikelihood, covariance, hasConverged);

    public ReadOnlySpan<double> Coefficients => _coefficients;

    /// <summary>Penalised log-likelihood, or the plain one without penalty; binomial coefficients left out.</summary>
    public double LogLikelihood { get; }

    /// <summary>Covariance of the coefficients; null where the design is singular.</summary>
    public Matrix<double>? Covariance { get; }

    /// <summary>False where the estimate runs away, as the plain one does on separated data.</summary>
    public bool HasConverged { get; }

    /// <summary>Fits all coefficients.</summary>
    public static LogisticFit Fit(LogisticData data, bool isPenalised = true) => Maximise(data, new double[data.Coefficients], held: -1, isPenalised, StepTolerance);

    /// <summary>Twice what the log-likelihood loses when one coefficient is held and the others are fitted again.</summary>
    public double LossAt(int coefficient, double value) => HeldAt(coefficient, value, _coefficients).Loss;

    /// <summary>One limit of a coefficient's 95 % profile-likelihood interval.</summary>
    /// <param name="coefficient">Which one.</param>
    /// <param name="isUpper">Upper or lower limit.</param>
    /// <returns>The limit; infinite where the likelihood does not fall far enough.</returns>
    public double ProfileLimit(int coefficient, bool isUpper)
    {
        double target = Math.Sqrt(ChiSquare95);
        double centre = _coefficients[coefficient];
        double step = (isUpper ? 2 : -2) * (Covariance is null ? 0.5 : Math.Sqrt(Covariance[coefficient, coefficient]));
        double[] start = _coefficients;
        double inside = 0, outside = step, fInside = -target, fOutside = Excess(step);
        while (fOutside < 0)
        {
            (inside, fInside) = (outside, fOutside);
            outside *= 2;
            if (Math.Abs(outside) > 1e3 * Math.Abs(step)) return isUpper ? double.PositiveInfinity : double.NegativeInfinity;
            fOutside = Excess(outside);
        }

        // Regula falsi on the signed root, which is close to a straight line; Illinois' rule keeps both ends moving.
        double middle = outside;
        for (int round = 0; round < 60 && Math.Abs(outside - inside) > 1e-9 * Math.Abs(step); round++)
        {
            middle = (inside * fOutside - outside * fInside) / (fOutside - fInside);
            double f = Excess(middle);
            if (Math.Abs(f) < 1e-8) break;
            if (f < 0) (inside, fInside, fOutside) = (middle, f, fOutside / 2);
            else (outside, fOutside, fInside) = (middle, f, fInside / 2);
        }

        return centre + middle;

        double Excess(double distance)
        {
            (double loss, double[] reached) = HeldAt(coefficient, centre + distance, start);
            start = reached;   // the next point is near
            return Math.Sqrt(Math.Max(0, loss)) - target;
        }
    }

    private (double Loss, double[] Coefficients) HeldAt(int coefficient, double value, double[] start)
    {
        double[] beta = [.. start];
        beta[coefficient] = value;
        LogisticFit held = Maximise(_data, beta, coefficient, _isPenalised, ProfileStepTolerance);
        return (2 * (LogLikelihood - held.LogLikelihood), held._coefficients);
    }

    /// <summary>The same fit seen from a setting: its intercept is the predictor there.</summary>
    public LogisticFit At(double[] setting)
    {
        LogisticData centred = _data.CentredOn(setting);
        double[] start = [.. _coefficients];
        for (int j = 1; j < start.Length; j++) start[0] += start[j] * setting[j];
        return Maximise(centred, start, held: -1, _isPenalised, StepTolerance);
    }

    private static LogisticFit Maximise(LogisticData data, double[] start, int held, bool isPenalised, double tolerance)
    {
        double[] beta = [.. start];
        State state = State.At(data, beta, isPenalised);
        bool hasConverged = false;
        for (int step = 0; step < MostSteps && !hasConverged; step++)
        {
            if (state.Move(data, held, isPenalised) is not { } move) break;
            double largest = move.Max(Math.Abs);
            double factor = Math.Min(1, 5 / Math.Max(largest, 1e-300));
            State next = state;
            double[] trial = beta;
            // Halve until it does not get worse; the tolerance lets rounding pass at the maximum.
            for (int halving = 0; halving < 30; halving++, factor /= 2)
            {
                trial = [.. beta.Select((value, j) => value + factor * move[j])];
                next = State.At(data, trial, isPenalised);
                if (next.LogLikelihood >= state.LogLikelihood - 1e-12 * Math.Abs(state.LogLikelihood)) break;
            }

            (beta, state) = (trial, next);
            hasConverged = largest < tolerance;
        }

        return new(data, beta, isPenalised, state.LogLikelihood, state.Inverse, hasConverged && beta.All(value => Math.Abs(value) < 1e6));
    }

    /// <summary>Likelihood, probabilities and information at one point.</summary>
    private sealed record State(double[] Probabilities, Matrix<double> Information, Matrix<double>? Inverse, double LogLikelihood)
    {
        public static State At(LogisticData data, double[] beta, bool isPenalised)
        {
            int size = beta.Length;
            double[] probabilities = new double[data.Design.Length];
            Matrix<double> information = Matrix<double>.Build.Dense(size, size);
            double likelihood = 0;
            for (int i = 0; i < probabilities.Length; i++)
            {
                double[] x = data.Design[i];
                double predictor = 0;
                for (int j = 0; j < size; j++) predictor += x[j] * beta[j];
                double p = 1 / (1 + Math.Exp(-predictor));
                probabilities[i] = p;
                // ln(1 + e^|η|) in a form that does not overflow.
                double lnDenominator = Math.Max(predictor, 0) + Math.Log(1 + Math.Exp(-Math.Abs(predictor)));
                likelihood += data.Successes[i] * predictor - data.Trials[i] * lnDenominator;
                double weight = data.Trials[i] * p * (1 - p);
                for (int j = 0; j < size; j++)
                {
                    for (int k = 0; k <= j; k++) information[j, k] += weight * x[j] * x[k];
                }
            }

            for (int j = 0; j < size; j++)
            {
                for (int k = 0; k < j; k++) information[k, j] = information[j, k];
            }

            double determinant = information.Determinant();
            if (isPenalised) likelihood += determinant > 0 ? 0.5 * Math.Log(determinant) : double.NegativeInfinity;
            return new(probabilities, information, determinant > 0 ? information.Inverse() : null, likelihood);
        }

        /// <summary>The scoring step; null where the information is singular.</summary>
        public double[]? Move(LogisticData data, int held, bool isPenalised)
        {
            if (Inverse is null) return null;
            int size = data.Coefficients;
            double[] score = new double[size];
            for (int i = 0; i < Probabilities.Length; i++)
            {
                double[] x = data.Design[i];
                double p = Probabilities[i];
                double excess = data.Successes[i] - data.Trials[i] * p;
                if (isPenalised) excess += data.Trials[i] * p * (1 - p) * Leverage(x) * (0.5 - p);
                for (int j = 0; j < size; j++) score[j] += excess * x[j];
            }

            int[] free = [.. Enumerable.Range(0, size).Where(j => j != held)];
            Matrix<double> part = Matrix<double>.Build.Dense(free.Length, free.Length, (a, b) => Information[free[a], free[b]]);
            Vector<double> solved = part.Solve(Vector<double>.Build.Dense(free.Length, a => score[free[a]]));
            if (!solved.All(double.IsFinite)) return null;
            double[] move = new double[size];
            for (int a = 0; a < free.Length; a++) move[free[a]] = solved[a];
            return move;
        }

        private double Leverage(double[] x)
        {
            double sum = 0;
            for (int j = 0; j < x.Length; j++)
            {
                for (int k = 0; k < x.Length; k++) sum += x[j] * Inverse![j, k] * x[k];
            }

            return sum;
        }
    }
}
