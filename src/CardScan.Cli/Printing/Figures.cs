using System.Globalization;

namespace CardScan.Cli;

/// <summary>Numbers on the terminal, with a decimal point; what rounds to zero has no sign.</summary>
internal static class Figures
{
    /// <summary>At most three decimals: 1500, 0.125, -2.</summary>
    public static string Plain(double value) => Text(Math.Round(value, 3), "0.###");

    /// <summary>Always two decimals: 0.40.</summary>
    public static string Hundredths(double value) => Text(Math.Round(value, 2), "0.00");

    /// <summary>Several: 120, 180, 260.</summary>
    public static string List(IEnumerable<double> values) => string.Join(", ", values.Select(Plain));

    // Adding zero turns −0 into 0.
    private static string Text(double rounded, string format) => (rounded + 0.0).ToString(format, CultureInfo.InvariantCulture);
}
