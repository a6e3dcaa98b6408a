using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>
/// A mark that rises with dose and levels off, in a form that holds the saturating and the logistic curve, and may deviate from it.
/// </summary>
/// <remarks>
/// strength = A · (1 − (1 + λ eᶻ)^(−1/λ)), z = g · (ln power − β · ln speed − μ): the saturating exponential for λ → 0, the
/// logistic curve for λ = 1. How a curve bends into its plateau is thereby one more thing that is not known (the generalised
/// logistic of F. J. Richards, J. Exp. Bot. 10 (1959) 290–301, written from zero; from memory). On top of it the marks of a
/// material deviate smoothly from any curve: by a share of the mark at each of some knots of ln dose about the limit. So a
/// card planned by it does not trust one form.
/// </remarks>
internal sealed class PlausibleMark : PlausibleLaw
{
    public const int Strongest = 0, Middle = 1, LnShape = 2, SpeedExponent = 3, Bend = 4, CurveParameters = 5;

    public static readonly int Parameters = CurveParameters + Knots.Length;

    /// <summary>
    /// ln dose of the knots over that of the limit; the first stands for all that is stronger, the last for all that is weaker.
    /// </summary>
    private static ReadOnlySpan<double> Knots => [0.8, 0.35, 0, -0.35, -0.8, -1.5];

    private const int TopKnot = 0, LimitKnot = 2;

    /// <summary>A faint mark deviates by at least as much as one of this share of the strongest.</summary>
    private const double LeastScale = 0.15;

    /// <summary>Beyond this the curve is at its plateau to the last digit.</summary>
    private const double MostZ = 40;

    private readonly double[] _p;
    private readonly MarkChance _chance;
    private readonly double _middleLnSpeed;
    private readonly double _lnLeft;
    private readonly double _shape;
    private readonly double _limitZ;
    private readonly double _limitSlope;
    private readonly double _fullMarkShare;

    /// <summary>A law.</summary>
    /// <param name="parameters">A, μ, ln g, β, λ, and the deviations at the knots, shares of the mark.</param>
    /// <param name="chance">How far cells scatter about it.</param>
    /// <param name="middleLnSpeed">ln of the speed at which μ is stated.</param>
    /// <param name="fullMarkShare">Share of the plateau that is a full mark.</param>
    public PlausibleMark(double[] parameters, MarkChance chance, double middleLnSpeed, double fullMarkShare)
    {
        (_p, _chance, _middleLnSpeed, _fullMarkShare) = (parameters, chance, middleLnSpeed, fullMarkShare);
        _lnLeft = -Math.Log(1 - fullMarkShare);
        _shape = Math.Exp(parameters[LnShape]);
        _limitZ = Math.Log((Math.Exp(parameters[Bend] * _lnLeft) - 1) / parameters[Bend]);
        double u = Math.Exp(_limitZ);
        _limitSlope = (1 - fullMarkShare) * _shape * u / (1 + parameters[Bend] * u);
    }

    public override int Size => Parameters;

    public override IReadOnlyList<(int Parameter, double Deviation)> OwnOfACard =>
        [(Middle, CardSpread.OfDose), (Strongest, CardSpread.OfMark * _p[Strongest])];

    /// <summary>Strength at a setting, by the curve alone.</summary>
    public static double StrengthAt(ReadOnlySpan<double> p, double lnPower, double speed) =>
        p[Strongest] * (1 - Math.Exp(-Passed(Math.Exp(Z(p, Math.Exp(p[LnShape]), lnPower, speed)), p[Bend])));

    public override void Add(Span<double> information, double lnPower, double lnSpeed)
    {
        double speed = lnSpeed - _middleLnSpeed, z = Z(_p, _shape, lnPower, speed), u = Math.Exp(z), bend = _p[Bend];
        double passed = Passed(u, bend), left = Math.Exp(-passed), share = 1 - left;
        double slope = _p[Strongest] * left * u / (1 + bend * u);
        Span<double> row = stackalloc double[Parameters];
        row[Strongest] = share;
        row[Middle] = -slope * _shape;
        row[LnShape] = slope * z;
        row[SpeedExponent] = -slope * _shape * speed;
        row[Bend] = _p[Strongest] * left * (u / (1 + bend * u) - passed) / bend;
        Hats.Fill(Knots, (z - _limitZ) / _shape, _p[Strongest] * Math.Max(share, LeastScale), row[CurveParameters..]);
        AddOuter(information, row, 1 / _chance.VarianceAt(_p[Strongest] * share));
    }

    /// <summary>Adds what is known of the strongest mark besides.</summary>
    public static void AddPeak(Span<double> information, double standardError)
    {
        Span<double> row = stackalloc double[Parameters];
        row[Strongest] = 1;
        AddOuter(information, row, 1 / (standardError * standardError));
    }

    public override double LnLimit(double lnSpeed) =>
        _p[Middle] + _p[SpeedExponent] * (lnSpeed - _middleLnSpeed) + _limitZ / _shape + LimitOfDeviations;

    public override void LimitGradient(double lnSpeed, Span<double> gradient)
    {
        double bend = _p[Bend], odds = Math.Exp(bend * _lnLeft);
        gradient.Clear();
        gradient[Middle] = 1;
        gradient[LnShape] = -_limitZ / _shape;
        gradient[SpeedExponent] = lnSpeed - _middleLnSpeed;
        gradient[Bend] = (_lnLeft * odds / (odds - 1) - 1 / bend) / _shape;
        // The limit is a share of the strongest mark: what both deviate by alike does not move it.
        gradient[CurveParameters + LimitKnot] = -_fullMarkShare / _limitSlope;
        gradient[CurveParameters + TopKnot] = _fullMarkShare / _limitSlope;
    }

    /// <summary>A law says for sure which settings give a full mark.</summary>
    public override double ChanceOfGoal(double lnPower, double lnSpeed) => lnPower >= LnLimit(lnSpeed) ? 1 : 0;

    private double LimitOfDeviations => _fullMarkShare / _limitSlope * (_p[CurveParameters + TopKnot] - _p[CurveParameters + LimitKnot]);

    private static double Z(ReadOnlySpan<double> p, double shape, double lnPower, double speed) =>
        Math.Min(shape * (lnPower - p[SpeedExponent] * speed - p[Middle]), MostZ);

    /// <summary>−ln of what is left to the plateau.</summary>
    private static double Passed(double u, double bend) => Math.Log(1 + bend * u) / bend;
}
