using System.Globalization;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>
/// Numbers of columns and drawings, which align: no more digits than their error supports, a true minus sign, never "−0".
/// What stands in a sentence is a <see cref="Figure"/>.
/// </summary>
internal static class Numbers
{
    /// <summary>What stands where nothing was measured.</summary>
    public static string NotMeasured => Voice.Say("page.not-measured");

    /// <summary>A number with a fixed count of decimals.</summary>
    public static string Fixed(double value, int decimals) =>
        Signed(Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString($"F{decimals}", CultureInfo.InvariantCulture));

    /// <summary>As <see cref="Fixed"/>, with a plus before what is greater than zero.</summary>
    public static string WithSign(double value, int decimals) =>
        Math.Round(value, decimals, MidpointRounding.AwayFromZero) > 0 ? $"+{Fixed(value, decimals)}" : Fixed(value, decimals);

    /// <summary>
    /// The number rounded to so many significant digits, 1 to 15: sums of binary fractions leave tails such as
    /// 2.0999999999999996.
    /// </summary>
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
