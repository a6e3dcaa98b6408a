using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving.Doubt;

/// <summary>A setting as the deviations from a law see it.</summary>
/// <param name="LnDose">ln of the effective dose over the highest of the card.</param>
/// <param name="LnRate">ln of power, passes and line density together.</param>
/// <param name="LnSpeed">ln of the speed over the card's middle speed.</param>
internal readonly record struct DoubtPoint(double LnDose, double LnRate, double LnSpeed);

/// <summary>Smooth ways in which the marks of a material may deviate from a fitted law, in shares of the strongest mark.</summary>
/// <remarks>
/// No law is quite true, and a share of the strongest mark stands or falls with it. So each fitted law may deviate: by dose
/// (steps, a second rise, late char: hats between knots, closest at the strong end, where full marks are decided), by power
/// and speed together, and by what a driver makes of its settings (a dead zone, saturation: a curved scale of power or speed,
/// which moves the dose). How far is one common scale τ, which the card's own cells tell (<see cref="LawPosterior"/>).
/// M. C. Kennedy, A. O'Hagan, J. R. Stat. Soc. B 63 (2001) 425–464 (model discrepancy; from memory).
/// docs/method/engrave-scoring.md, "Deviations".
/// </remarks>
internal sealed class DeviationTerms
{
    /// <summary>
    /// Knots of the deviation by dose, ln below the highest dose: steps of a quarter and less at the strong end,
    /// wider where marks are weak.
    /// </summary>
    private static readonly double[] Knots = [0, -0.15, -0.35, -0.6, -0.95, -1.4, -2, -2.8];

    /// <summary>A faint mark deviates by at least as much as one of this share: chosen here; halved, it changes no full mark.</summary>
    private const double LeastScale = 0.15;

    /// <summary>
    /// ln dose by which a setting may be off, over the τ of the marks: 3 % of dose for 1 % of the mark (chosen here; a
    /// gentle law rises by about a third of its mark an ln dose).
    /// </summary>
    private const double DoseScale = 3;

    private const double SlopeStep = 0.02;

    private readonly DoseLaw _law;
    private readonly double[] _parameters;
    private readonly double _lnHighest;
    private readonly int _knots;
    private readonly (double Middle, double Half) _rate;
    private readonly (double Middle, double Half) _speed;
    private readonly double _strongest;

    public DeviationTerms(LawFit fit)
    {
        (_law, _parameters) = (fit.Law, fit.Parameters.ToArray());
        _lnHighest = _law.LnHighestDose(_parameters);
        _strongest = fit.Law.Curve.Value(fit.Law.ShapeOf(_parameters), fit.Peak);
        DoubtPoint[] points = [.. Enumerable.Range(0, fit.Card.Burned.Count).Select(PointOf)];
        double lowest = points.Min(point => point.LnDose);
        _knots = 1 + Knots.Count(knot => knot < 0 && knot > lowest);
        (_rate, _speed) = (RangeOf(points.Select(point => point.LnRate)), RangeOf(points.Select(point => point.LnSpeed)));
        Count = _knots + (HasRate ? 2 : 0) + (HasSpeed ? 2 : 0) + InteractionCount;
    }

    /// <summary>How many of them, the first ones, are at the strong end: late char, a coat that burns off.</summary>
    public const int TopCount = 2;

    /// <summary>Number of terms.</summary>
    public int Count { get; }

    /// <summary>How many of them, the last ones, belong to power and speed together.</summary>
    public int InteractionCount => HasRate && HasSpeed ? 3 : 0;

    private bool HasRate => _rate.Half > 0;

    private bool HasSpeed => _speed.Half > 0;

    /// <summary>A burned cell's setting, or one beside it.</summary>
    public DoubtPoint PointOf(int burned) => new(
        _law.LnEffectiveDose(_parameters, burned) - _lnHighest, _law.LnRateOf(burned), _law.LnSpeedOf(burned));

    /// <summary>A setting beside another one.</summary>
    public DoubtPoint Beside(DoubtPoint point, double lnPowerChange, double lnSpeedChange) => new(
        point.LnDose + lnPowerChange - _parameters[DoseLaw.SpeedExponent] * lnSpeedChange, point.LnRate + lnPowerChange,
        point.LnSpeed + lnSpeedChange);

    /// <summary>What a unit of each coefficient adds at a setting, in shares of the strongest mark.</summary>
    public void Fill(DoubtPoint at, Span<double> row)
    {
        double scale = ScaleAt(at);
        Hats.Fill(Knots, at.LnDose, scale, row[.._knots]);
        int next = _knots;
        double q = Unit(at.LnRate, _rate), s = Unit(at.LnSpeed, _speed), slope = DoseScale * SlopeAt(at);
        if (HasRate)
        {
            row[next++] = slope * SecondOrder(q);
            row[next++] = slope * ThirdOrder(q);
        }

        if (HasSpeed)
        {
            row[next++] = slope * SecondOrder(s);
            row[next++] = slope * ThirdOrder(s);
        }

        if (!HasRate || !HasSpeed) return;
        row[next++] = scale * q * s;
        row[next++] = scale * SecondOrder(q) * s;
        row[next] = scale * q * SecondOrder(s);
    }

    /// <summary>What they add at a dose, whatever the power and speed that make it.</summary>
    public void FillAtDose(DoubtPoint at, Span<double> row)
    {
        Hats.Fill(Knots, at.LnDose, ScaleAt(at), row[.._knots]);
        row[_knots..].Clear();
    }

    /// <summary>
    /// Share of the strongest mark by the law, at least <see cref="LeastScale"/>: what a deviation in shares of a mark is counted in.
    /// </summary>
    public double ScaleAt(DoubtPoint at) => Math.Max(ShareAt(at.LnDose), LeastScale);

    /// <summary>Share of the strongest mark that an ln of dose adds, by the law.</summary>
    public double SlopeAt(DoubtPoint at) => (ShareAt(at.LnDose + SlopeStep / 2) - ShareAt(at.LnDose - SlopeStep / 2)) / SlopeStep;

    private double ShareAt(double lnDose) => _law.Curve.Value(_law.ShapeOf(_parameters), Math.Exp(lnDose)) / _strongest;

    private static (double Middle, double Half) RangeOf(IEnumerable<double> values)
    {
        double[] all = [.. values];
        double half = (all.Max() - all.Min()) / 2;
        return ((all.Max() + all.Min()) / 2, half > 1e-6 ? half : 0);
    }

    private static double Unit(double value, (double Middle, double Half) range) =>
        range.Half > 0 ? (value - range.Middle) / range.Half : 0;

    // Legendre's polynomials: what power and speed exponents and the dose itself do not already say.
    private static double SecondOrder(double x) => (3 * x * x - 1) / 2;

    private static double ThirdOrder(double x) => (5 * x * x * x - 3 * x) / 2;
}
