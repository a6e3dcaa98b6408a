using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Comparing;

/// <summary>A cell of one of two batches.</summary>
/// <param name="IsOther">False for the first batch, true for the later one.</param>
/// <param name="LnDose">ln of its dose.</param>
/// <param name="LnSpeed">ln of its speed over a middle speed.</param>
/// <param name="Response">What was measured.</param>
/// <param name="Deviation">Standard deviation of that, greater than zero.</param>
internal sealed record JointCell(bool IsOther, double LnDose, double LnSpeed, double Response, double Deviation);

/// <summary>A parameter that the later of two batches has for itself.</summary>
/// <param name="Index">Which one.</param>
/// <param name="Lower">Its lower limit.</param>
/// <param name="Upper">Its upper limit.</param>
internal readonly record struct OwnParameter(int Index, double Lower, double Upper)
{
    /// <summary>
    /// How far it may lie from the first batch's, standard deviation of their ln ratio: what is known beforehand. Null leaves it free.
    /// </summary>
    public double? LnDeviation { get; init; }
}

/// <summary>One curve through the cells of two batches, with a factor on the later one's dose.</summary>
/// <remarks>
/// The later batch's response to a dose is the first's to that dose over the ratio. Some parameters may be the later
/// batch's own. Intervals of ln ratio are by profile: all values whose sum of squares, the other parameters fitted
/// again, lies no more than t² · s² above the least. For straight lines that is Fieller's interval.
/// </remarks>
internal sealed class JointFit
{
    /// <summary>Ratios beyond e³ are no ratios of two deliveries.</summary>
    private const double LargestLnRatio = 3;

    /// <summary>
    /// Precision of the fits of a profile and of those that only tell which start is the better one: the limits that come of it are told
    /// to five digits, and ended at rounding they would take three times as long.
    /// </summary>
    private const double ProfilePrecision = 1e-8;

    private readonly Problem _problem;
    private readonly NonlinearFit _fit;

    private JointFit(Problem problem, NonlinearFit fit) => (_problem, _fit) = (problem, fit);

    /// <summary>ln of the dose that the later batch needs over that of the first; zero without a ratio.</summary>
    public double LnRatio => _fit.Parameters[^1];

    /// <summary>Sum of the squared residuals over their deviations.</summary>
    public double SumOfSquares => _fit.SumOfSquares;

    /// <summary>Cells less estimated parameters, the ratio among them.</summary>
    public int DegreesOfFreedom => _problem.DegreesOfFreedom;

    /// <summary>The curve's parameters for one of the batches.</summary>
    public double[] Parameters(bool isOther) => _problem.ParametersOf(_fit.Parameters, isOther);

    /// <summary>
    /// Standard error of one of the shared parameters, for deviations that are right as they stand; zero where it is held.
    /// </summary>
    public double StandardError(int parameter) => _fit.Cofactors is { } q ? Math.Sqrt(q[parameter, parameter]) : double.NaN;

    /// <summary>Fits.</summary>
    /// <param name="curve">The curve.</param>
    /// <param name="cells">Cells of both batches.</param>
    /// <param name="box">Range of its parameters.</param>
    /// <param name="own">What the later batch has for itself.</param>
    /// <param name="hasRatio">False for separate curves, where a ratio would have no meaning.</param>
    /// <param name="starts">
    /// Parameters of the first batch, of the later one, and ln ratio, from which to start; the two best are followed.
    /// </param>
    /// <returns>The fit; null where it does not settle.</returns>
    public static JointFit? Fit(
        ResponseCurve curve, IReadOnlyList<JointCell> cells, CurveBox box, IEnumerable<OwnParameter> own, bool hasRatio,
        IEnumerable<(double[] First, double[] Later, double LnRatio)> starts)
    {
        Problem problem = new(curve, cells, box, [.. own.Where(parameter => parameter.Lower < parameter.Upper)], hasRatio);
        NonlinearFit? best = starts
            .Select(start => (double[])[.. start.First, .. problem.Own.Select(own => start.Later[own.Index]), start.LnRatio])
            .OrderBy(problem.SumOfSquaresAt).Take(2)
            .Select(start => problem.Minimise(start, heldLnRatio: null, ProfilePrecision))
            .Where(fit => fit.Stop != FitStop.NotFinite)
            .MinBy(fit => fit.SumOfSquares);
        return best is null ? null : new(problem, problem.Minimise(best.Parameters.ToArray(), heldLnRatio: null));
    }

    /// <summary>The cells' fitted responses.</summary>
    public double[] Fitted() => _problem.Fitted(_fit.Parameters);

    /// <summary>What the sum of squares gains when the ratio is held and everything else is fitted again.</summary>
    public double LossAt(double lnRatio) => LossAt(lnRatio, _fit.Parameters.ToArray()).Loss;

    /// <summary>The interval of ln ratio; null where it has an end nowhere near.</summary>
    /// <param name="allowedLoss">Loss at its limits: t² · s².</param>
    public (double Low, double High)? Interval(double allowedLoss) =>
        Limit(allowedLoss, -1) is { } low && Limit(allowedLoss, 1) is { } high ? (low, high) : null;

    private double? Limit(double allowedLoss, int direction)
    {
        double target = Math.Sqrt(allowedLoss);
        double[] start = _fit.Parameters.ToArray();
        double inside = 0, outside = FirstStep(target), fInside = -target, fOutside = Excess(outside);
        while (fOutside < 0)
        {
            (inside, fInside) = (outside, fOutside);
            outside *= 2;
            if (Math.Abs(LnRatio) + outside > LargestLnRatio) return null;
            fOutside = Excess(outside);
        }

        // Regula falsi on the root of the loss, which is close to a straight line; Illinois' rule keeps both ends moving.
        double middle = outside;
        for (int round = 0; round < 50 && outside - inside > 1e-8; round++)
        {
            middle = (inside * fOutside - outside * fInside) / (fOutside - fInside);
            double f = Excess(middle);
            if (Math.Abs(f) < 1e-6 * target) break;
            if (f < 0) (inside, fInside, fOutside) = (middle, f, fOutside / 2);
            else (outside, fOutside, fInside) = (middle, f, fInside / 2);
        }

        return LnRatio + direction * middle;

        double Excess(double distance)
        {
            (double loss, double[] reached) = LossAt(LnRatio + direction * distance, start);
            start = reached;   // the next point is near
            return Math.Sqrt(Math.Max(0, loss)) - target;
        }
    }

    /// <summary>Just beyond where the limit would be if the loss were a parabola, as it nearly is.</summary>
    private double FirstStep(double target)
    {
        const double beyond = 1.05, least = 0.01;
        int last = _fit.Parameters.Length - 1;
        return _fit.Cofactors is { } q && q[last, last] > 0
            ? Math.Clamp(beyond * target * Math.Sqrt(q[last, last]), least, LargestLnRatio / 4)
            : least;
    }

    private (double Loss, double[] Reached) LossAt(double lnRatio, double[] start)
    {
        NonlinearFit held = _problem.Minimise([.. start[..^1], lnRatio], lnRatio, ProfilePrecision);
        return (held.SumOfSquares - SumOfSquares, held.Parameters.ToArray());
    }

    /// <summary>What is fitted: the parameters of the first batch, the later one's own, and ln ratio, in this order.</summary>
    private sealed record Problem(
        ResponseCurve Curve, IReadOnlyList<JointCell> Cells, CurveBox Box, OwnParameter[] Own, bool HasRatio)
    {
        /// <summary>What is known of an own parameter beforehand counts as an observation.</summary>
        private int Known { get; } = Own.Count(own => own.LnDeviation is not null);

        public int DegreesOfFreedom => Cells.Count + Known - Box.Free.Length - Own.Length - (HasRatio ? 1 : 0);

        public NonlinearFit Minimise(double[] start, double? heldLnRatio, double precision = NonlinearFit.Finest)
        {
            double? held = HasRatio ? heldLnRatio : 0;
            return NonlinearFit.Minimise(
                Residuals, Cells.Count + Known, start,
                [.. Box.Lower, .. Own.Select(own => own.Lower), held ?? -LargestLnRatio],
                [.. Box.Upper, .. Own.Select(own => own.Upper), held ?? LargestLnRatio],
                precision);
        }

        public double SumOfSquaresAt(double[] p)
        {
            double[] residuals = new double[Cells.Count + Known];
            Residuals(p, residuals);
            return residuals.Sum(residual => residual * residual);
        }

        public double[] Fitted(ReadOnlySpan<double> p)
        {
            double[] first = ParametersOf(p, isOther: false), later = ParametersOf(p, isOther: true);
            double[] fitted = new double[Cells.Count];
            for (int i = 0; i < fitted.Length; i++)
            {
                JointCell cell = Cells[i];
                fitted[i] = cell.IsOther ? Curve(later, cell.LnDose - p[^1], cell.LnSpeed) : Curve(first, cell.LnDose, cell.LnSpeed);
            }

            return fitted;
        }

        public double[] ParametersOf(ReadOnlySpan<double> p, bool isOther)
        {
            double[] parameters = p[..Box.Lower.Length].ToArray();
            for (int i = 0; isOther && i < Own.Length; i++) parameters[Own[i].Index] = p[Box.Lower.Length + i];
            return parameters;
        }

        private void Residuals(ReadOnlySpan<double> p, Span<double> residuals)
        {
            double[] fitted = Fitted(p);
            for (int i = 0; i < fitted.Length; i++) residuals[i] = (Cells[i].Response - fitted[i]) / Cells[i].Deviation;
            int known = fitted.Length;
            for (int i = 0; i < Own.Length; i++)
            {
                if (Own[i].LnDeviation is not { } deviation) continue;
                residuals[known++] = Math.Log(p[Box.Lower.Length + i] / p[Own[i].Index]) / deviation;
            }
        }
    }
}
