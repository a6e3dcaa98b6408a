using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>What closes a cut again where it got too much.</summary>
/// <remarks>
/// Doses are ln of the dose over the one that opens half of the sides along x, speeds ln of the speed over the reference speed.
/// </remarks>
internal abstract record UpperEnd
{
    public static UpperEnd None { get; } = new NoEnd();

    /// <summary>Probability that a side closes again, each for itself.</summary>
    public virtual double SideClosed(double lnDose, double lnSpeed) => 0;

    /// <summary>Probability that the whole cell closes again.</summary>
    public virtual double CellClosed(double lnDose, double lnSpeed) => 0;

    private sealed record NoEnd : UpperEnd;
}

/// <summary>Melt that runs together again above some dose.</summary>
internal sealed record WeldsByDose(double LnDose, double Steepness) : UpperEnd
{
    public override double SideClosed(double lnDose, double lnSpeed) => 1 / (1 + Math.Exp(Steepness * (LnDose - lnDose)));
}

/// <summary>Melt that runs together again below some speed, whatever the power.</summary>
internal sealed record WeldsBySpeed(double LnSpeed, double Steepness) : UpperEnd
{
    public override double SideClosed(double lnDose, double lnSpeed) => 1 / (1 + Math.Exp(Steepness * (lnSpeed - LnSpeed)));
}

/// <summary>Above some dose a share of the cells flames, and char fills them.</summary>
internal sealed record CharShuts(double LnDose, double LnWidth, double Share) : UpperEnd
{
    public override double CellClosed(double lnDose, double lnSpeed) => Share * Normal.CDF(LnDose, LnWidth, lnDose);
}
