using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>A true law of a side being through, against ln of the dose over the dose that opens half of such sides.</summary>
internal abstract record SideLaw(double Steepness)
{
    /// <summary>Probability that a side is through.</summary>
    public abstract double Probability(double lnDose);

    /// <summary>The ln dose that a side drawn at this probability needs: the inverse of <see cref="Probability"/>.</summary>
    public abstract double LnDoseNeeded(double probability);
}

/// <summary>Logistic: the model of the scoring. Steepness is the logit gained a unit of ln dose.</summary>
internal sealed record LogisticSides(double Steepness) : SideLaw(Steepness)
{
    public override double Probability(double lnDose) => 1 / (1 + Math.Exp(-Steepness * lnDose));

    public override double LnDoseNeeded(double probability) => Math.Log(probability / (1 - probability)) / Steepness;
}

/// <summary>Probit, cut off: below some dose no side is ever through. About as steep as a logistic of the same steepness.</summary>
internal sealed record ThresholdProbitSides(double Steepness) : SideLaw(Steepness)
{
    private double Deviation => 1.7 / Steepness;

    private double Threshold => -1.2 * Deviation;

    public override double Probability(double lnDose) => lnDose < Threshold ? 0 : Normal.CDF(0, Deviation, lnDose);

    public override double LnDoseNeeded(double probability) => Math.Max(Threshold, Normal.InvCDF(0, Deviation, probability));
}
