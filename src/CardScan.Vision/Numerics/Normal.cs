namespace CardScan.Vision;

/// <summary>The standard normal distribution.</summary>
internal static class Normal
{
    /// <summary>
    /// Share of a normal distribution below a value; Zelen and Severo in Abramowitz and Stegun 26.2.17, error below 7.5e-8.
    /// </summary>
    public static double Below(double x)
    {
        double t = 1 / (1 + 0.2316419 * Math.Abs(x));
        double tail = Math.Exp(-x * x / 2) / Math.Sqrt(2 * Math.PI)
            * t * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
        return x >= 0 ? 1 - tail : tail;
    }

    /// <summary>What blur leaves of a stretch of light, at a place: 1 inside a long one, 0 far from it.</summary>
    /// <param name="at">The place.</param>
    /// <param name="from">Where the stretch begins, in the same unit.</param>
    /// <param name="to">Where it ends.</param>
    /// <param name="blur">Standard deviation of the blur.</param>
    public static double Blurred(double at, double from, double to, double blur) => Below((to - at) / blur) - Below((from - at) / blur);
}
