using System.Globalization;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A fitted model in words: its name, its parameters with their units, and how well it fits.</summary>
internal static partial class ModelWords
{
    /// <summary>The model's name.</summary>
    public static string Name(string model) => model switch
    {
        "saturating-exponential" => "Saturating exponential of the dose",
        "isotonic" => "Order alone: more power or less speed never weakens the mark",
        "rise-then-fall" => "A mark that rises with the dose and then falls",
        "penalised-logistic" => "Logistic model of a side being through, with Firth's penalty",
        _ => Sentence.Capital(Sentence.FromCode(model)),
    };

    /// <summary>A parameter's name and its value with unit.</summary>
    public static (string Name, string Value) Parameter(string code, Measured value)
    {
        (string name, string unit) = Words(code);
        return (name, WithUnit(Numbers.WithError(value), unit));
    }

    /// <summary>A figure of the fit: name, and value as a count, a share in percent, yes or no, or a number with its unit.</summary>
    public static (string Name, string Value) Diagnostic(string code, double value)
    {
        (string name, string unit) = Words(code);
        return (name, unit switch
        {
            Share => Numbers.Percent(value),
            Answer => value == 0 ? "no" : "yes",
            _ => WithUnit(Number(value), unit),
        });
    }

    // What some figures have in the place of a unit.
    private const string Share = "share", Answer = "answer";

    private static readonly Dictionary<string, (string Name, string Unit)> Known = new(StringComparer.Ordinal)
    {
        ["strongestMark"] = ("Strongest mark on the card (mark strength)", ""),
        ["plateau"] = ("Mark that the curve heads for (mark strength)", ""),
        ["thresholdDose"] = ("Dose at which marking begins", "J/mm²"),
        ["scaleDose"] = ("Scale of the dose beyond that", "J/mm²"),
        ["shape"] = ("Shape: power of the dose in the exponent", ""),
        ["speedExponent"] = ("Exponent of the speed", ""),
        ["powerExponent"] = ("Exponent of the power", ""),
        ["doseRatioAlongYToX"] = ("Dose that sides along y need, over that of sides along x", ""),
        ["cellsUsed"] = ("Cells used", ""),
        ["sidesUsed"] = ("Sides used", ""),
        ["outliers"] = ("Cells left out because they do not fit", ""),
        ["degreesOfFreedom"] = ("Degrees of freedom", ""),
        ["effectiveDegreesOfFreedom"] = ("Effective degrees of freedom", ""),
        ["residualDeviation"] = ("Deviation of the cells from the model (mark strength)", ""),
        ["extraDeviation"] = ("Chance from cell to cell beyond the stated errors", ""),
        ["chanceInShareOfMark"] = ("That chance counts in shares of the mark", Answer),
        ["plateauShare"] = ("Share of the plateau that the strongest cell reaches", Share),
        ["levelledProbability"] = ("Test that the mark has levelled off: p", Share),
        ["halfwayProbability"] = ("Test that the mark is only half way up: p", Share),
        ["lackOfFitProbability"] = ("Test that the residuals have no pattern: p", Share),
        ["lackOfFitDeviation"] = ("Size of a pattern in the residuals (mark strength)", ""),
        ["energyOnlyProbability"] = ("Test that only the energy counts: p", Share),
        ["middleSpeedMmPerMin"] = ("Middle speed of the card", "mm/min"),
        ["fastestFullMarkStability"] = ("Cells that can each be left out without changing the fastest full mark", Share),
        ["penalisedLogLikelihood"] = ("Penalised log-likelihood", ""),
    };

    private static (string Name, string Unit) Words(string code)
    {
        if (Known.TryGetValue(code, out (string Name, string Unit) known)) return known;
        if (EfficiencyAtFocus().Match(code) is { Success: true } focus)
        {
            double offsetMm = double.Parse(focus.Groups["offset"].ValueSpan, CultureInfo.InvariantCulture);
            return ($"Efficiency at focus offset {SettingWords.WithUnit(Setting.FocusOffsetMm, offsetMm)}, over that at the first offset", "");
        }

        (string name, string unit) = GoalWords.Quantity(code);
        return (Sentence.Capital(name), unit);
    }

    private static string Number(double value)
    {
        const double Least = 0.0001;
        if (value == Math.Round(value)) return Numbers.Fixed(value, 0);
        if (Math.Abs(value) < Least) return value > 0 ? "<\u00a00.0001" : ">\u00a0−0.0001";
        return Numbers.Significant(value, 4);
    }

    private static string WithUnit(string number, string unit) => unit.Length == 0 ? number : $"{number}\u00a0{unit}";

    [GeneratedRegex(@"^efficiencyAtFocus(?<offset>-?[0-9]+(?:\.[0-9]+)?)Mm$", RegexOptions.CultureInvariant, matchTimeoutMilliseconds: 1000)]
    private static partial Regex EfficiencyAtFocus();
}
