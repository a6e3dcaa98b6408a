using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Fitting;

/// <summary>Weighted residuals at given parameters.</summary>
/// <param name="parameters">Parameters.</param>
/// <param name="residuals">Filled with one residual an observation, each divided by its standard deviation.</param>
internal delegate void ResidualFunction(ReadOnlySpan<double> parameters, Span<double> residuals);

/// <summary>Why a fit stopped.</summary>
internal enum FitStop
{
    /// <summary>No step improves it any more.</summary>
    Converged,

    /// <summary>Steps still improved it when they ran out.</summary>
    OutOfSteps,

    /// <summary>The start gave no finite residuals.</summary>
    NotFinite,
}

/// <summary>Nonlinear least squares within bounds.</summary>
/// <remarks>
/// Levenberg–Marquardt with Moré's scaling and Nielsen's damping (K. Madsen, H. B. Nielsen, O. Tingleff, Methods for
/// Non-Linear Least Squares Problems, 2nd ed., 2004). MathNet's minimiser reaches the same minima, but keeps bounds by
/// a change of variables in which a parameter on its bound has no derivative left, and allocates at every evaluation;
/// a card is refitted hundreds of times. Here a parameter that wants to leave its box rests on the wall; its uncertainty
/// still counts there, unless the observations say nothing of it any more. A fit that runs out of steps returns its best
/// point and says so.
/// </remarks>
internal sealed class NonlinearFit
{
    private const int MostSteps = 600;

    /// <summary>The precision at which a fit ends at rounding.</summary>
    public const double Finest = 1e-15;

    /// <summary>A precision at which steps are worth sharpening beyond what the sum of squares can tell.</summary>
    private const double RoundingPrecision = 1e-14;

    // Cube root of the rounding unit: balances rounding against curvature in a central difference.
    private const double DifferenceStep = 6e-6;

    // Square root of the rounding unit: the same for a difference to one side.
    private const double LooseStep = 1e-7;

    private readonly double[] _parameters;
    private readonly int _observations;
    private readonly Lazy<(Matrix<double>? Matrix, int Estimated)> _cofactors;

    private NonlinearFit(Search search, int observations, FitStop stop)
    {
        (_parameters, SumOfSquares, _observations, Stop) = ([.. search.Point], search.SumOfSquares, observations, stop);
        // Most fits only look for a start or test a value: nobody asks for their errors.
        _cofactors = new(() => stop == FitStop.NotFinite ? (null, 0) : search.Cofactors());
    }

    /// <summary>The best parameters.</summary>
    public ReadOnlySpan<double> Parameters => _parameters;

    /// <summary>Sum of the squared weighted residuals there.</summary>
    public double SumOfSquares { get; }

    /// <summary>Observations less the parameters that have a covariance.</summary>
    public int DegreesOfFreedom => _observations - _cofactors.Value.Estimated;

    /// <summary>
    /// (JᵀJ)⁻¹ at the minimum (expected, not observed, Hessian), zero for parameters that are fixed or were dropped on a
    /// bound; times the variance of unit weight it is their covariance. Null where the observations do not determine the
    /// parameters.
    /// </summary>
    public Matrix<double>? Cofactors => _cofactors.Value.Matrix;

    /// <summary>Why it stopped.</summary>
    public FitStop Stop { get; }

    /// <summary>Variance of unit weight; NaN without degrees of freedom.</summary>
    public double UnitVariance => DegreesOfFreedom > 0 ? SumOfSquares / DegreesOfFreedom : double.NaN;

    /// <summary>Minimises the sum of squares.</summary>
    /// <param name="residuals">The weighted residuals; the same for the same parameters, whenever it is asked.</param>
    /// <param name="count">Number of observations.</param>
    /// <param name="start">Where to start; brought inside the bounds.</param>
    /// <param name="lower">Lower bounds, or null for none. A parameter with equal bounds is fixed.</param>
    /// <param name="upper">Upper bounds, or null for none.</param>
    /// <param name="precision">Relative gain of a step below which the search ends; with the default it ends at rounding.</param>
    public static NonlinearFit Minimise(
        ResidualFunction residuals, int count, double[] start, double[]? lower = null, double[]? upper = null, double precision = Finest)
    {
        Search search = new(residuals, count, start, lower, upper, precision);
        FitStop stop = search.Run();
        return new(search, count, stop);
    }

    private sealed class Search
    {
        private readonly ResidualFunction _function;
        private readonly int _observations;
        private readonly int _size;
        private readonly double _precision;
        private readonly double[] _lower;
        private readonly double[] _upper;
        private readonly double[] _trial;
        private readonly double[] _scale;
        private readonly double[] _gradient;
        private readonly double[,] _normal;
        private readonly double[][] _jacobian;
        private readonly double[] _minus;
        private readonly double[] _plus;
        private readonly double[] _residuals;
        private bool _isLinear;

        public Search(ResidualFunction function, int observations, double[] start, double[]? lower, double[]? upper, double precision)
        {
            (_function, _observations, _size, _precision) = (function, observations, start.Length, precision);
            _lower = lower ?? [.. start.Select(_ => double.NegativeInfinity)];
            _upper = upper ?? [.. start.Select(_ => double.PositiveInfinity)];
            Point = [.. start.Select((value, j) => Math.Clamp(value, _lower[j], _upper[j]))];
            (_trial, _scale, _gradient) = (new double[_size], new double[_size], new double[_size]);
            _normal = new double[_size, _size];
            _jacobian = [.. start.Select(_ => new double[observations])];
            (_residuals, _minus, _plus) = (new double[observations], new double[observations], new double[observations]);
        }

        public double[] Point { get; }

        private bool IsLoose => _precision > RoundingPrecision;

        public double SumOfSquares { get; private set; }

        public FitStop Run()
        {
            SumOfSquares = Evaluate(Point, _residuals);
            if (!double.IsFinite(SumOfSquares)) return FitStop.NotFinite;

            double damping = 1e-3;
            for (int step = 0; step < MostSteps; step++)
            {
                Linearise();
                if (!Improve(ref damping)) return IsLoose ? FitStop.Converged : Polish();
            }

            return FitStop.OutOfSteps;
        }

        /// <summary>Cofactors of all parameters that are not fixed; of those off their bounds where that is singular.</summary>
        public (Matrix<double>? Cofactors, int Estimated) Cofactors()
        {
            Linearise();
            int[] unfixed = [.. Enumerable.Range(0, _size).Where(j => _lower[j] < _upper[j])];
            int[] free = [.. unfixed.Where(IsFree)];
            return CofactorsOf(unfixed) is { } all ? (all, unfixed.Length) : (CofactorsOf(free), free.Length);
        }

        private Matrix<double>? CofactorsOf(int[] free)
        {
            if (free.Length == 0) return Matrix<double>.Build.Dense(_size, _size);
            if (free.Any(j => !(_normal[j, j] > 0))) return null;

            // Scaled to a unit diagonal, so that the test for singularity does not depend on the parameters' units.
            Matrix<double> correlation = Matrix<double>.Build.Dense(free.Length, free.Length, (a, b) =>
                _normal[free[a], free[b]] / Math.Sqrt(_normal[free[a], free[a]] * _normal[free[b], free[b]]));
            if (correlation.Evd(Symmetricity.Symmetric).EigenValues.Real().Minimum() < 1e-13) return null;

            Matrix<double> inverse = correlation.Inverse();
            Matrix<double> cofactors = Matrix<double>.Build.Dense(_size, _size);
            for (int a = 0; a < free.Length; a++)
            {
                for (int b = 0; b < free.Length; b++)
                    cofactors[free[a], free[b]] = inverse[a, b] / Math.Sqrt(_normal[free[a], free[a]] * _normal[free[b], free[b]]);
            }

            return cofactors;
        }

        /// <summary>Tries ever shorter steps until one improves; false when none does.</summary>
        private bool Improve(ref double damping)
        {
            double growth = 2;
            while (damping < 1e16)
            {
                double[]? move = Solve(damping);
                if (move is not null)
                {
                    double predicted = Predicted(move, damping);
                    for (int j = 0; j < _size; j++) _trial[j] = Math.Clamp(Point[j] + move[j], _lower[j], _upper[j]);
                    double sum = Evaluate(_trial, _plus);
                    double gain = SumOfSquares - sum;
                    if (gain > 0)
                    {
                        bool isNegligible = gain <= _precision * SumOfSquares;
                        Accept(sum);
                        double ratio = gain / predicted;
                        damping *= Math.Max(1.0 / 3, 1 - Math.Pow(2 * ratio - 1, 3));
                        return !isNegligible && sum > 0;
                    }
                }

                damping *= growth;
                growth *= 2;
            }

            return false;
        }

        /// <summary>Near the minimum the sum of squares is flat to rounding; undamped steps still sharpen the parameters.</summary>
        private FitStop Polish()
        {
            double last = double.PositiveInfinity;
            for (int step = 0; step < 4; step++)
            {
                Linearise();
                if (Solve(0) is not { } move) break;
                double length = 0;
                for (int j = 0; j < _size; j++)
                {
                    _trial[j] = Math.Clamp(Point[j] + move[j], _lower[j], _upper[j]);
                    length = Math.Max(length, Math.Abs(move[j]) / (Math.Abs(Point[j]) + 1e-300));
                }

                double sum = Evaluate(_trial, _plus);
                if (!(length < 1e-3 && length < last && sum <= SumOfSquares * (1 + 1e-10))) break;
                Accept(sum);
                last = length;
            }

            return FitStop.Converged;
        }

        private void Accept(double sum)
        {
            _trial.CopyTo(Point, 0);
            _plus.CopyTo(_residuals, 0);
            SumOfSquares = sum;
            _isLinear = false;
        }

        private double Evaluate(double[] at, double[] residuals)
        {
            _function(at, residuals);
            double sum = 0;
            foreach (double r in residuals) sum += r * r;
            return sum;
        }

        /// <summary>
        /// Jacobian by central differences (to one side where the fit may be loose: half the work), gradient and normal
        /// matrix at the present point.
        /// </summary>
        private void Linearise()
        {
            if (_isLinear) return;
            _isLinear = true;
            for (int j = 0; j < _size; j++)
            {
                double[] column = _jacobian[j];
                if (_lower[j] == _upper[j])
                {
                    Array.Clear(column);
                    continue;
                }

                double centre = Point[j];
                if (IsLoose)
                {
                    double ahead = LooseStep * Math.Max(Math.Abs(centre), 1e-2);
                    if (centre + ahead > _upper[j]) ahead = -ahead;
                    Point[j] = centre + ahead;
                    _function(Point, _plus);
                    Point[j] = centre;
                    for (int i = 0; i < _observations; i++) column[i] = (_plus[i] - _residuals[i]) / ahead;
                    continue;
                }

                double step = DifferenceStep * Math.Max(Math.Abs(centre), 1e-4);
                double below = Math.Max(centre - step, _lower[j]);
                double above = Math.Min(centre + step, _upper[j]);
                Point[j] = below;
                _function(Point, _minus);
                Point[j] = above;
                _function(Point, _plus);
                Point[j] = centre;
                for (int i = 0; i < _observations; i++) column[i] = (_plus[i] - _minus[i]) / (above - below);
            }

            for (int j = 0; j < _size; j++)
            {
                _gradient[j] = Vectors.Dot(_jacobian[j], _residuals);
                for (int k = 0; k <= j; k++) _normal[j, k] = _normal[k, j] = Vectors.Dot(_jacobian[j], _jacobian[k]);
                _scale[j] = Math.Max(_scale[j], _normal[j, j] > 0 ? _normal[j, j] : 1e-30);
            }
        }

        private bool IsFree(int j) =>
            _lower[j] < _upper[j]
            && !(Point[j] <= _lower[j] && _gradient[j] > 0)
            && !(Point[j] >= _upper[j] && _gradient[j] < 0);

        /// <summary>Solves (JᵀJ + damping · scale) move = −Jᵀr over the free parameters by Cholesky; null where that fails.</summary>
        private double[]? Solve(double damping)
        {
            double[] move = new double[_size];
            int[] free = [.. Enumerable.Range(0, _size).Where(IsFree)];
            double[,] factor = new double[free.Length, free.Length];
            double[] y = new double[free.Length];
            for (int a = 0; a < free.Length; a++)
            {
                double unitA = 1 / Math.Sqrt(_scale[free[a]]);
                for (int b = 0; b <= a; b++)
                {
                    double sum = _normal[free[a], free[b]] * unitA / Math.Sqrt(_scale[free[b]]);
                    if (a == b) sum += damping;
                    for (int c = 0; c < b; c++) sum -= factor[a, c] * factor[b, c];
                    if (a != b) factor[a, b] = sum / factor[b, b];
                    else if (sum > 0) factor[a, a] = Math.Sqrt(sum);
                    else return null;
                }

                y[a] = -_gradient[free[a]] * unitA;
                for (int c = 0; c < a; c++) y[a] -= factor[a, c] * y[c];
                y[a] /= factor[a, a];
            }

            for (int a = free.Length - 1; a >= 0; a--)
            {
                for (int c = a + 1; c < free.Length; c++) y[a] -= factor[c, a] * y[c];
                y[a] /= factor[a, a];
            }

            for (int a = 0; a < free.Length; a++) move[free[a]] = y[a] / Math.Sqrt(_scale[free[a]]);
            return move;
        }

        private double Predicted(double[] move, double damping)
        {
            double sum = 0;
            for (int j = 0; j < _size; j++) sum += move[j] * (damping * _scale[j] * move[j] - _gradient[j]);
            return Math.Max(sum, double.Epsilon);
        }
    }
}
