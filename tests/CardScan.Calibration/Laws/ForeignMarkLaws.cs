using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>A mark that gains as much with every doubling of the dose, from a threshold on, and never levels off.</summary>
internal sealed record LogRampLaw(double ThresholdDose, double GainPerLn) : MarkLaw
{
    public override double Strength(double dose) => Math.Clamp(GainPerLn * Math.Log(dose / ThresholdDose), 0, Darkest);
}

/// <summary>A mark that grows as a power below 1 of the dose: always more, ever slower.</summary>
internal sealed record PowerGainLaw(double TopDose, double TopStrength, double Exponent) : MarkLaw
{
    public override double Strength(double dose) => Math.Min(TopStrength * Math.Pow(dose / TopDose, Exponent), Darkest);
}

/// <summary>A coat that turns at once: a rise in ln dose by the normal distribution, narrow or wide, from a haze to a full mark.</summary>
internal sealed record CoatLaw(double Haze, double Top, double MiddleDose, double LnWidth) : MarkLaw
{
    public override double Strength(double dose) => Haze + (Top - Haze) * Step.Up(dose, MiddleDose, LnWidth);
}

/// <summary>A first stage that levels off, and a second rise above it: scorch, then char.</summary>
internal sealed record TwoStageLaw(MarkLaw First, double SecondDose, double SecondLnWidth, double SecondGain) : MarkLaw
{
    public override double Strength(double dose) =>
        Math.Min(First.Strength(dose) + SecondGain * Step.Up(dose, SecondDose, SecondLnWidth), Darkest);
}

/// <summary>Strongest at one dose and weaker by the same ratio below and above it: a Gaussian in ln dose.</summary>
internal sealed record PeakLaw(double Top, double PeakDose, double LnWidth) : MarkLaw
{
    public override double Strength(double dose) =>
        Top * Math.Exp(-Math.Pow(Math.Log(Math.Max(dose, Step.LeastDose) / PeakDose) / LnWidth, 2) / 2);
}

/// <summary>A mark that rises, and is burned off above some dose.</summary>
internal sealed record BurnedOffLaw(MarkLaw Rise, double LossDose, double LnWidth, double LostShare) : MarkLaw
{
    public override double Strength(double dose) => Rise.Strength(dose) * (1 - LostShare * Step.Up(dose, LossDose, LnWidth));
}

/// <summary>A step in ln dose, by the normal distribution.</summary>
internal static class Step
{
    /// <summary>Stands for no light at all where a logarithm is taken, J/mm².</summary>
    public const double LeastDose = 1e-9;

    public static double Up(double dose, double middleDose, double lnWidth) =>
        Normal.CDF(Math.Log(middleDose), lnWidth, Math.Log(Math.Max(dose, LeastDose)));
}
