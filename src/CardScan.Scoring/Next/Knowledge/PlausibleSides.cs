using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>A cut: each side is through with a probability that rises with ln dose.</summary>
/// <remarks>
/// logit = b · (ln power − r · ln speed − m − [along y] · w), and a few sides in a hundred are one thing or the other
/// whatever their dose, so that cells far from the limit tell nothing of it.
/// </remarks>
internal sealed class PlausibleSides : PlausibleLaw
{
    public const int Middle = 0, LnSteepness = 1, SpeedOverPower = 2, Ways = 3, Parameters = 4;

    /// <summary>
    /// Probability that a side with ample dose is held, and of one with far too little that it is through: a knot, a misread side.
    /// </summary>
    private const double Lapse = 0.01;

    private const int SidesOfAWay = 2;

    private readonly double[] _p;
    private readonly double _inflation;
    private readonly double _middleLnSpeed;
    private readonly double _steepness;

    /// <summary>A law.</summary>
    /// <param name="parameters">m, ln b, r, w.</param>
    /// <param name="inflation">Sides of a cell fail together: so many of them are one.</param>
    /// <param name="middleLnSpeed">ln of the speed at which m is stated.</param>
    public PlausibleSides(double[] parameters, double inflation, double middleLnSpeed)
    {
        (_p, _inflation, _middleLnSpeed) = (parameters, inflation, middleLnSpeed);
        _steepness = Math.Exp(parameters[LnSteepness]);
    }

    public override int Size => Parameters;

    public override IReadOnlyList<(int Parameter, double Deviation)> OwnOfACard { get; } = [(Middle, PieceSpread.Usual)];

    /// <summary>Probability that a side is through.</summary>
    public static double ProbabilityAt(ReadOnlySpan<double> p, double lnPower, double speed, bool isAlongY) =>
        Probability(Math.Exp(p[LnSteepness]) * Above(p, lnPower, speed, isAlongY));

    public override void Add(Span<double> information, double lnPower, double lnSpeed)
    {
        AddSides(information, lnPower, lnSpeed, isAlongY: false, SidesOfAWay);
        AddSides(information, lnPower, lnSpeed, isAlongY: true, SidesOfAWay);
    }

    /// <summary>Adds the information of so many sides of one way.</summary>
    public void AddSides(Span<double> information, double lnPower, double lnSpeed, bool isAlongY, double sides)
    {
        double speed = lnSpeed - _middleLnSpeed, logit = _steepness * Above(_p, lnPower, speed, isAlongY);
        double rarer = Math.Exp(-Math.Abs(logit)), slope = (1 - 2 * Lapse) * rarer / ((1 + rarer) * (1 + rarer)), p = Probability(logit);
        AddOuter(information, [-_steepness, logit, -_steepness * speed, isAlongY ? -_steepness : 0],
            sides / _inflation * slope * slope / (p * (1 - p)));
    }

    /// <summary>Half of the sides of the harder way are through.</summary>
    public override double LnLimit(double lnSpeed) => _p[Middle] + Math.Max(0, _p[Ways]) + _p[SpeedOverPower] * (lnSpeed - _middleLnSpeed);

    public override void LimitGradient(double lnSpeed, Span<double> gradient)
    {
        gradient[Middle] = 1;
        gradient[LnSteepness] = 0;
        gradient[SpeedOverPower] = lnSpeed - _middleLnSpeed;
        gradient[Ways] = _p[Ways] > 0 ? 1 : 0;
    }

    /// <summary>All four sides are through.</summary>
    public override double ChanceOfGoal(double lnPower, double lnSpeed)
    {
        double speed = lnSpeed - _middleLnSpeed;
        double both = ProbabilityAt(_p, lnPower, speed, isAlongY: false) * ProbabilityAt(_p, lnPower, speed, isAlongY: true);
        return both * both;
    }

    private static double Above(ReadOnlySpan<double> p, double lnPower, double speed, bool isAlongY) =>
        lnPower - p[SpeedOverPower] * speed - p[Middle] - (isAlongY ? p[Ways] : 0);

    private static double Probability(double logit) => Lapse + (1 - 2 * Lapse) / (1 + Math.Exp(-logit));
}
