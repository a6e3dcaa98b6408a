using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Comparing;

/// <summary>A cell of one of two batches.</summary>
/// <param name="IsOther">False for the first batch, true for the later one.</param>
/// <param name="LnDose">ln of its dose.</param>
/// <param name="LnSpeed">ln of its speed over a middle speed.</param>
/// <param name="Response">What was measured.</param>
/// <param name="Deviation">Standard deviation of that, greater than zero.</param>
internal sealed record JointCell(bool IsOther, double LnDose, double LnSpeed, double Response, double Deviation);

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

    private readonly ResponseCurve _curve;
    private readonly IReadOnlyList<JointCell> _cells;
    private readonly CurveBox _box;
    private readonly int[] _own;
    private readonly bool _hasRatio;
    private readonly NonlinearFit _fit;

    private JointFit(ResponseCurve curve, IReadOnlyList<JointCell> cells, CurveBox box, int[] own, bool hasRatio, NonlinearFit fit) =>
        (_curve, _cells, _box, _own, _hasRatio, _fit) = (curve, cells, box, own, hasRatio, fit);

    /// <summary>ln of the dose that the later batch needs over that of the first; zero without a ratio.</summary>
    public double LnRatio => _fit.Parameters[^1];

    /// <summary>Sum of the squared residuals over their deviations.</summary>
    public double SumOfSquares => _fit.SumOfSquares;

    /// <summary>Cells less estimated parameters, the ratio among them.</summary>
    public int DegreesOfFreedom => _cells.Count - _box.Free.Length - _own.Length - (_hasRatio ? 1 : 0);

    /// <summary>The curve's parameters for one of the batches.</summary>
    public double[] Parameters(bool isOther) => ParametersOf(_fit.Parameters, _own, _box.Lower.Length, isOther);

    /// <summary>
    /// Standard error of one of the shared parameters, for deviations that are right as they stand; zero where it is held.
    /// </summary>
    public double StandardError(int parameter) => _fit.Cofactors is { } q ? Math.Sqrt(q[parameter, parameter]) : double.NaN;

    /// <summary>Fits.</summary>
    /// <param name="curve">The curve.</param>
    /// <param name="cells">Cells of both batches.</param>
    /// <param name="box">Range of its parameters.</param>
    /// <param name="own">Parameters that the later batch has for itself.</param>
    /// <param name="hasRatio">False for separate curves, where a ratio would have no meaning.</param>
    /// <param name="starts">
    /// Parameters of the first batch, of the later one, and ln ratio, from which to start; the two best are followed.
    /// </param>
    /// <returns>The fit; null where it does not settle.</returns>
    public static JointFit? Fit(
        ResponseCurve curve, IReadOnlyList<JointCell> cells, CurveBox box, IEnumerable<int> own, bool hasRatio,
        IEnumerable<(double[] First, double[] Later, double LnRatio)> starts)
    {
        int[] free = [.. own.Where(box.IsFree)];
        NonlinearFit? best = starts
            .Select(start => (double[])[.. start.First, .. free.Select(j => start.Later[j]), start.LnRatio])
            .OrderBy(start => SumOfSquaresAt(curve, cells, free, box.Lower.Length, start)).Take(2)
            .Select(start => Minimise(curve, cells, box, free, start, hasRatio ? null : 0, ProfilePrecision))
            .Where(fit => fit.Stop != FitStop.NotFinite)
            .MinBy(fit => fit.SumOfSquares);
        return best is null ? null : new(
            curve, cells, box, free, hasRatio, Minimise(curve, cells, box, free, best.Parameters.ToArray(), hasRatio ? null : 0));
    }

    /// <summary>The cells' fitted responses.</summary>
    public double[] Fitted() => Fitted(_curve, _cells, _own, _box.Lower.Length, _fit.Parameters);

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
        double inside = 0, outside = 0.01, fInside = -target, fOutside = Excess(outside);
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

    private (double Loss, double[] Reached) LossAt(double lnRatio, double[] start)
    {
        NonlinearFit held = Minimise(_curve, _cells, _box, _own, [.. start[..^1], lnRatio], lnRatio, ProfilePrecision);
        return (held.SumOfSquares - SumOfSquares, held.Parameters.ToArray());
    }

    private static NonlinearFit Minimise(
        ResponseCurve curve, IReadOnlyList<JointCell> cells, CurveBox box, int[] own, double[] start, double? heldLnRatio,
        double precision = NonlinearFit.Finest) =>
        NonlinearFit.Minimise(
            (p, residuals) =>
            {
                double[] fitted = Fitted(curve, cells, own, box.Lower.Length, p);
                for (int i = 0; i < residuals.Length; i++) residuals[i] = (cells[i].Response - fitted[i]) / cells[i].Deviation;
            },
            cells.Count, start,
            [.. box.Lower, .. own.Select(j => box.Lower[j]), heldLnRatio ?? -LargestLnRatio],
            [.. box.Upper, .. own.Select(j => box.Upper[j]), heldLnRatio ?? LargestLnRatio],
            precision);

    private static double SumOfSquaresAt(ResponseCurve curve, IReadOnlyList<JointCell> cells, int[] own, int size, double[] p) =>
        Fitted(curve, cells, own, size, p).Zip(cells, (y, cell) => Math.Pow((cell.Response - y) / cell.Deviation, 2)).Sum();

    private static double[] Fitted(ResponseCurve curve, IReadOnlyList<JointCell> cells, int[] own, int size, ReadOnlySpan<double> p)
    {
        double[] first = ParametersOf(p, own, size, isOther: false), later = ParametersOf(p, own, size, isOther: true);
        double[] fitted = new double[cells.Count];
        for (int i = 0; i < fitted.Length; i++)
        {
            JointCell cell = cells[i];
            fitted[i] = cell.IsOther ? curve(later, cell.LnDose - p[^1], cell.LnSpeed) : curve(first, cell.LnDose, cell.LnSpeed);
        }

        return fitted;
    }

    private static double[] ParametersOf(ReadOnlySpan<double> p, int[] own, int size, bool isOther)
    {
        double[] parameters = p[..size].ToArray();
        for (int i = 0; isOther && i < own.Length; i++) parameters[own[i]] = p[size + i];
        return parameters;
    }
}
