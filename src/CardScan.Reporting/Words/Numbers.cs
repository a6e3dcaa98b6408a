using System.Globalization;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Numbers as people read them: no more digits than their error supports, a true minus sign, never "−0".</summary>
internal static class Numbers
{
    /// <summary>What stands where nothing was measured.</summary>
    public const string NotMeasured = "not measured";

    /// <summary>A number that somebody chose (a setting, a size): all its digits, up to four decimals.</summary>
    public static string Chosen(double value) => Signed(value.ToString("0.####", CultureInfo.InvariantCulture));

    /// <summary>A number with a fixed count of decimals.</summary>
    public static string Fixed(double value, int decimals) =>
        Signed(Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString($"F{decimals}", CultureInfo.InvariantCulture));

    /// <summary>As <see cref="Fixed"/>, with a plus before what is greater than zero.</summary>
    public static string WithSign(double value, int decimals) =>
        Math.Round(value, decimals, MidpointRounding.AwayFromZero) > 0 ? $"+{Fixed(value, decimals)}" : Fixed(value, decimals);

    /// <summary>A number with so many significant digits, without an exponent.</summary>
    public static string Significant(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value)) return Chosen(value);
        int decimals = Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 12);
        return Fixed(value, decimals);
    }

    /// <summary>The number rounded to so many significant digits, 1 to 15: sums of binary fractions leave tails such as 2.0999999999999996.</summary>
    public static double Rounded(double value, int digits) =>
        double.Parse(value.ToString($"E{digits - 1}", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>Value ± standard error, both rounded to what the error supports.</summary>
    /// <param name="measured">Value and error.</param>
    /// <param name="mostDecimals">More decimals belong into a file for programs, not on a page.</param>
    public static string WithError(Measured measured, int mostDecimals = 6)
    {
        int decimals = Math.Min(mostDecimals, DecimalsFor(measured.StandardError));
        double lastPlace = Math.Pow(10, -decimals);
        // An error that is there is never shown as zero.
        string error = measured.StandardError > 0 && measured.StandardError < 0.5 * lastPlace
            ? $"<\u00a0{Fixed(lastPlace, decimals)}"
            : Fixed(measured.StandardError, decimals);
        return $"{Fixed(measured.Value, decimals)}\u00a0±\u00a0{error}";
    }

    /// <summary>The value alone, rounded to what its error supports and to at most <paramref name="mostDecimals"/> decimals.</summary>
    public static string Value(Measured measured, int mostDecimals) =>
        Fixed(measured.Value, Math.Min(mostDecimals, DecimalsFor(measured.StandardError)));

    /// <summary>A 95 % interval as "0.94 mm (0.91 to 0.97)", rounded to what its half-width supports.</summary>
    public static string WithInterval(double value, double low, double high, string unit = "")
    {
        // A 95 % interval of a normal quantity reaches 1.96 standard errors to either side.
        int decimals = DecimalsFor((high - low) / (2 * 1.96));
        string withUnit = unit.Length == 0 ? "" : $"\u00a0{unit}";
        return $"{Fixed(value, decimals)}{withUnit} ({Fixed(low, decimals)} to {Fixed(high, decimals)})";
    }

    /// <summary>A 95 % interval of a share of 1 as "94.9 % (93.5 to 95.9)"; nothing short of all becomes 100, nothing above none becomes 0.</summary>
    public static string PercentWithInterval(double value, double low, double high)
    {
        int decimals = Math.Min(1, DecimalsFor(100 * (high - low) / (2 * 1.96)));
        double step = Math.Pow(10, -decimals);
        (string shown, string from, string to) = (Print(100 * value), Print(100 * low), Print(100 * high));
        // An interval narrower than the last place says nothing, and "100.00" claims more than anybody knows.
        if (from == to && to == shown) return Percent(value);
        return $"{shown}\u00a0% ({from} to {to})";

        string Print(double percent) => percent switch
        {
            < 100 when Math.Round(percent, decimals) >= 100 => $">\u00a0{Fixed(100 - step, decimals)}",
            > 0 when Math.Round(percent, decimals) <= 0 => $"<\u00a0{Fixed(step, decimals)}",
            _ => Fixed(percent, decimals),
        };
    }

    /// <summary>A share of 1 as percent; nothing short of all becomes 100 %, nothing above none becomes 0 %.</summary>
    public static string Percent(double share01)
    {
        double percent = share01 * 100;
        if (percent is > 99.9 and < 100) return ">\u00a099.9\u00a0%";
        if (percent is > 0 and < 0.1) return "<\u00a00.1\u00a0%";
        int decimals = percent is 0 or 100 || (percent >= 10 && percent <= 90) ? 0 : 1;
        string digits = Fixed(percent, decimals);
        return $"{(digits.EndsWith(".0", StringComparison.Ordinal) ? digits[..^2] : digits)}\u00a0%";
    }

    /// <summary>Decimals that a standard error supports, 0 to 6.</summary>
    /// <remarks>
    /// The rule of the Particle Data Group (Review of Particle Physics, Introduction, "Rounding"): by the error's three
    /// leading digits, 100–354 keeps two digits, 355–949 one, 950–999 becomes 1000 and keeps two.
    /// </remarks>
    internal static int DecimalsFor(double standardError)
    {
        if (!(standardError > 0)) return 3;
        int exponent = (int)Math.Floor(Math.Log10(standardError));
        int leading = (int)Math.Round(standardError / Math.Pow(10, exponent - 2));
        if (leading >= 950) (exponent, leading) = (exponent + 1, 100);
        int kept = leading <= 354 ? 2 : 1;
        return Math.Clamp(kept - 1 - exponent, 0, 6);
    }

    private static string Signed(string digits)
    {
        if (digits.Length == 0 || digits[0] != '-') return digits;
        bool isZero = digits.AsSpan(1).IndexOfAnyExcept('0', '.') < 0;
        return isZero ? digits[1..] : $"−{digits[1..]}";
    }
}
