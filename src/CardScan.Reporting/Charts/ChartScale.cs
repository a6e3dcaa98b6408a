namespace CardScan.Reporting;

/// <summary>A scale of a chart: range, ticks, and where a value lies; even steps, or even factors where the range spans much.</summary>
internal sealed class ChartScale
{
    private ChartScale(double low, double high, bool isLogarithmic, IReadOnlyList<double> ticks) =>
        (Low, High, IsLogarithmic, Ticks) = (low, high, isLogarithmic, ticks);

    public double Low { get; }

    public double High { get; }

    public bool IsLogarithmic { get; }

    public IReadOnlyList<double> Ticks { get; }

    /// <summary>Logarithmic where all values are positive and the largest is at least eight times the smallest; else linear.</summary>
    public static ChartScale For(double smallest, double largest) =>
        smallest > 0 && largest >= 8 * smallest ? Logarithmic(smallest, largest) : Linear(smallest, largest);

    /// <summary>Even steps of 1, 2 or 5 times a power of ten, ending on a tick on both sides.</summary>
    public static ChartScale Linear(double smallest, double largest)
    {
        if (!(largest > smallest)) (smallest, largest) = (smallest - Half(smallest), largest + Half(largest));
        double step = RoundStep((largest - smallest) / 5);
        // Ends within a hair of a tick stay there: 0.30000000000000004 is 0.3.
        double first = Math.Floor(smallest / step + 1e-9) * step;
        double last = Math.Ceiling(largest / step - 1e-9) * step;
        int count = (int)Math.Round((last - first) / step);
        return new(first, last, false, [.. Enumerable.Range(0, count + 1).Select(i => first + i * step)]);
    }

    /// <summary>Even factors, ticks at 1, 2 and 5 times powers of ten, a little room at both ends.</summary>
    public static ChartScale Logarithmic(double smallest, double largest)
    {
        (double low, double high) = (smallest / 1.12, largest * 1.12);
        List<double> ticks = [];
        double decades = Math.Log10(high / low);
        double[] leading = decades > 3 ? [1] : [1, 2, 5];
        for (int exponent = (int)Math.Floor(Math.Log10(low)); exponent <= Math.Ceiling(Math.Log10(high)); exponent++)
            ticks.AddRange(leading.Select(digit => digit * Math.Pow(10, exponent)).Where(tick => tick >= low && tick <= high));
        return new(low, high, true, ticks);
    }

    /// <summary>Where a value lies: 0 at the low end, 1 at the high end.</summary>
    public double Share(double value) => IsLogarithmic
        ? Math.Log(value / Low) / Math.Log(High / Low)
        : (value - Low) / (High - Low);

    /// <summary>A tick as printed.</summary>
    public string Print(double tick)
    {
        double step = IsLogarithmic || Ticks.Count < 2 ? tick : Ticks[1] - Ticks[0];
        int decimals = step == 0 ? 0 : Math.Clamp(-(int)Math.Floor(Math.Log10(Math.Abs(step)) + 1e-9), 0, 9);
        return Numbers.Fixed(tick, decimals);
    }

    private static double RoundStep(double step)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(step)));
        double leading = step / power;
        return power * (leading <= 1 ? 1 : leading <= 2 ? 2 : leading <= 5 ? 5 : 10);
    }

    private static double Half(double value) => value == 0 ? 0.5 : 0.5 * Math.Abs(value);
}
