using CardScan.Model;
using MathNet.Numerics;

namespace CardScan.Scoring.Cutting;

/// <summary>A figure with its 95 % interval.</summary>
/// <param name="Value">Best estimate.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
internal sealed record Estimate(double Value, double Low, double High)
{
    /// <summary>Odds beyond e to this power are those of certainty.</summary>
    private const double Certain = 30;

    private const int StepsToASide = 20;
    private const double FarthestDeviation = 4;

    /// <summary>
    /// The probability that something happens, when its own probability is known only within limits: the mean over a normal
    /// spread of the log odds, to each side as wide as that side's limit is far. Where 99.9 % might as well be 95 %, the next
    /// one fails more often than once in a thousand.
    /// </summary>
    /// <param name="best">Best estimate, 0 to 1.</param>
    /// <param name="low">Lower limit, 0 to <paramref name="best"/>.</param>
    /// <param name="high">Upper limit, up to 1.</param>
    public static Estimate OfProbability(double best, double low, double high)
    {
        double middle = LogOdds(best), below = (middle - LogOdds(low)) / NormalQuantile.TwoSided95,
            above = (LogOdds(high) - middle) / NormalQuantile.TwoSided95;
        double sum = 0, weights = 0;
        for (int i = -StepsToASide; i <= StepsToASide; i++)
        {
            double z = FarthestDeviation * i / StepsToASide, weight = Math.Exp(-z * z / 2);
            sum += weight * SpecialFunctions.Logistic(middle + z * (z < 0 ? below : above));
            weights += weight;
        }

        return new(sum / weights, low, high);
    }

    /// <summary>
    /// The probability of both of two independent things. What each lacks at its lower limit counts by its square, as errors do;
    /// the upper limits lie so near to certainty that their product stands.
    /// </summary>
    public Estimate And(Estimate other)
    {
        double both = Value * other.Value, lacking = (Value - Low) * other.Value, othersLacking = (other.Value - other.Low) * Value;
        return new(both, Math.Max(0, both - Math.Sqrt(lacking * lacking + othersLacking * othersLacking)), High * other.High);
    }

    private static double LogOdds(double probability) => Math.Clamp(Math.Log(probability / (1 - probability)), -Certain, Certain);
}
