namespace CardScan.Scoring.Next.Design;

/// <summary>
/// Values of an axis that lie apart. A card whose values gather at two points tells a law most only as long as the law
/// is right: nothing could show that it is not.
/// </summary>
internal static class Levels
{
    /// <summary>A card keeps this many where it has so many values.</summary>
    public const int Fewest = 4;

    /// <summary>Ratio from which on two values lie apart: closer ones differ by less than what a cell's own chance hides.</summary>
    private const double Apart = 1.05;

    /// <summary>True where two values lie apart.</summary>
    public static bool AreApart(double a, double b) => Math.Max(a, b) >= Apart * Math.Min(a, b);

    /// <summary>How many values of some, each apart from the one below.</summary>
    public static int Of(IEnumerable<double> values)
    {
        int levels = 0;
        double last = 0;
        foreach (double value in values.Order())
        {
            if (value < last * Apart) continue;
            levels++;
            last = value;
        }

        return levels;
    }
}
