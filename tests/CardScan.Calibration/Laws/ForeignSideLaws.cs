using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

// All are about as steep at their middle as a logistic of the same steepness.

/// <summary>Probit: thin tails.</summary>
internal sealed record ProbitSides(double Steepness) : SideLaw(Steepness)
{
    private double Deviation => 1.6 / Steepness;

    public override double Probability(double lnDose) => Normal.CDF(0, Deviation, lnDose);

    public override double LnDoseNeeded(double probability) => Normal.InvCDF(0, Deviation, probability);
}

/// <summary>Cauchit: tails so heavy that a few sides are held at any dose a card holds.</summary>
internal sealed record CauchitSides(double Steepness) : SideLaw(Steepness)
{
    private double Scale => 4 / (Math.PI * Steepness);

    public override double Probability(double lnDose) => 0.5 + Math.Atan(lnDose / Scale) / Math.PI;

    public override double LnDoseNeeded(double probability) => Scale * Math.Tan(Math.PI * (probability - 0.5));
}

/// <summary>Complementary log-log: it begins early and ends all at once.</summary>
internal sealed record LopsidedSides(double Steepness) : SideLaw(Steepness)
{
    private double Scale => 1.4 / Steepness;

    public override double Probability(double lnDose) => 1 - Math.Exp(-Math.Log(2) * Math.Exp(lnDose / Scale));

    public override double LnDoseNeeded(double probability) => Scale * Math.Log(-Math.Log(1 - probability) / Math.Log(2));
}

/// <summary>
/// Logistic in the dose itself, not in its logarithm: sides at low doses are through more often than the scoring's law
/// has it, at high doses too.
/// </summary>
internal sealed record PlainDoseSides(double Steepness) : SideLaw(Steepness)
{
    /// <summary>Needed doses are cut off here: a side that opens without light would need the logarithm of nothing.</summary>
    private const double LeastDose = 0.01;

    public override double Probability(double lnDose) => 1 / (1 + Math.Exp(-Steepness * (Math.Exp(lnDose) - 1)));

    public override double LnDoseNeeded(double probability) =>
        Math.Log(Math.Max(LeastDose, 1 + Math.Log(probability / (1 - probability)) / Steepness));
}
