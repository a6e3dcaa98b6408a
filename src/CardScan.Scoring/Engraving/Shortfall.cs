using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>How far a setting falls short of the strongest mark, on a scale on which its error is nearly normal.</summary>
/// <param name="Value">ln(1 − share) on a curve that only rises; the root of 1 − share, negative past the peak, on one with a peak.</param>
/// <param name="Error">Its standard error.</param>
/// <param name="IsPeaked">Whether the curve has its peak inside the card.</param>
/// <remarks>
/// Towards a plateau the logarithm is nearly linear in the parameters, and its interval never passes 1. About a peak the
/// shortfall goes with the square of the distance from it, so that its signed root is the linear one.
/// </remarks>
internal readonly record struct Shortfall(double Value, double Error, bool IsPeaked)
{
    private const double Smallest = 1e-9;

    /// <summary>The scale's value for a share.</summary>
    public static double Scaled(double share, bool isPeaked, bool isPastPeak)
    {
        double root = Math.Sqrt(Math.Max(1 - share, 0));
        return !isPeaked ? Math.Log(Math.Max(1 - share, Smallest)) : isPastPeak ? -root : root;
    }

    /// <summary>Probability that the share is at least that of a full mark.</summary>
    public double FullMarkProbability(double fullMarkShare, double degreesOfFreedom)
    {
        if (!IsPeaked && Value <= Math.Log(Smallest)) return 1;   // the strongest setting itself
        double limit = Scaled(fullMarkShare, IsPeaked, isPastPeak: false);
        if (!(Error > 0)) return IsPeaked ? (Math.Abs(Value) <= limit ? 1 : 0) : Value <= limit ? 1 : 0;
        double below = StudentT.CDF(0, 1, degreesOfFreedom, (limit - Value) / Error);
        return IsPeaked ? below - StudentT.CDF(0, 1, degreesOfFreedom, (-limit - Value) / Error) : below;
    }

    /// <summary>Share of the strongest mark with its interval, at a number of standard errors to each side.</summary>
    public (double Share, double Low, double High) Shares(double quantile)
    {
        if (!IsPeaked && Value <= Math.Log(Smallest)) return (1, 1, 1);
        double near = Value - quantile * Error, far = Value + quantile * Error;
        if (!IsPeaked) return (1 - Math.Exp(Value), Math.Max(0, 1 - Math.Exp(far)), 1 - Math.Exp(near));
        double most = Math.Max(near * near, far * far);
        double least = near <= 0 && far >= 0 ? 0 : Math.Min(near * near, far * far);
        return (1 - Value * Value, Math.Max(0, 1 - most), 1 - least);
    }
}
