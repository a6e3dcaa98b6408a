namespace CardScan.Scoring.Fitting;

/// <summary>A ratio of two estimates with its interval.</summary>
/// <param name="Value">The ratio.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
internal sealed record Fieller(double Value, double Low, double High)
{
    /// <summary>
    /// The interval of a ratio a / b by Fieller's theorem; null where b is not told from zero and the interval has no end.
    /// </summary>
    /// <param name="a">Numerator.</param>
    /// <param name="b">Denominator.</param>
    /// <param name="varianceA">Variance of the numerator.</param>
    /// <param name="covariance">Covariance of the two.</param>
    /// <param name="varianceB">Variance of the denominator.</param>
    /// <param name="quantile">Two-sided quantile, 1.96 for 95 %.</param>
    /// <remarks>E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175–185: all m with (a − m b)² ≤ quantile² · Var(a − m b).</remarks>
    public static Fieller? Of(double a, double b, double varianceA, double covariance, double varianceB, double quantile)
    {
        double q2 = quantile * quantile;
        double square = b * b - q2 * varianceB;
        if (!(square > 0)) return null;
        double linear = a * b - q2 * covariance;
        double root = Math.Sqrt(Math.Max(0, linear * linear - square * (a * a - q2 * varianceA)));
        return new(a / b, (linear - root) / square, (linear + root) / square);
    }
}
