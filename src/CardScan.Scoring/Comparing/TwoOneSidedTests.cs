using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>Equivalence by two one-sided tests.</summary>
/// <remarks>
/// D. J. Schuirmann, J. Pharmacokin. Biopharm. 15 (1987) 657–680. Equivalent at a level exactly where the interval of
/// twice that level (90 % at 0.05) lies within the margin.
/// </remarks>
internal static class TwoOneSidedTests
{
    /// <summary>Level of each test.</summary>
    public const double Level = 0.05;

    /// <summary>The larger of the two one-sided probabilities.</summary>
    /// <param name="aboveLower">(estimate − lower margin) / standard error.</param>
    /// <param name="aboveUpper">(estimate − upper margin) / standard error.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of the error; infinite where it is known.</param>
    public static double Probability(double aboveLower, double aboveUpper, double degreesOfFreedom) =>
        Math.Max(Below(-aboveLower, degreesOfFreedom), Below(aboveUpper, degreesOfFreedom));

    private static double Below(double t, double degreesOfFreedom) =>
        double.IsInfinity(degreesOfFreedom) ? Normal.CDF(0, 1, t) : StudentT.CDF(0, 1, degreesOfFreedom, t);
}
