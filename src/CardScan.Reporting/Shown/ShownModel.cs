using System.Globalization;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>
/// A fitted model: its name, its parameters with their units, and how well it fits. What this version does not know keeps
/// its code.
/// </summary>
internal static partial class ShownModel
{
    private static readonly string[] Doses = ["thresholdDose", "scaleDose", "peakDose", "fallDose", "fallWidthDose", "halfDose"];

    private static readonly string[] Shares = ["plateauShare", "sureCutLeaveOneOutLow"];

    /// <summary>The model's name.</summary>
    public static string Name(string model) => Voice.TrySay(new Phrase($"page.model.name.{model}")) ?? model;

    /// <summary>A parameter's name and its value with unit.</summary>
    public static (string Name, string Value) Parameter(string code, Measured value) =>
        (NameOf(code), Voice.Say($"unit.{UnitOf(code)}", ("value", Numbers.WithError(value))));

    /// <summary>A figure of the fit: name, and value as a count, a share in percent, yes or no, or a number with its unit.</summary>
    public static (string Name, string Value) Diagnostic(string code, double value) => (NameOf(code), code == "chanceInShareOfMark"
        ? Voice.Say("page.model.answer", ("answer", Is(value != 0)))
        : Voice.Tell(In(UnitOf(code), value)));

    private static string NameOf(string code) => EfficiencyAtFocus().Match(code) is { Success: true } focus
        ? Voice.Say(
            "page.model.figure.efficiencyAtFocus",
            ("offset", In(Unit.OffsetMm, double.Parse(focus.Groups["offset"].ValueSpan, CultureInfo.InvariantCulture))))
        : Voice.TrySay(new Phrase($"page.model.figure.{code}")) ?? code;

    private static Unit UnitOf(string code)
    {
        if (Doses.Contains(code)) return Unit.JPerMm2;
        if (EfficiencyAtFocus().IsMatch(code)) return Unit.Statistic;
        bool isShare = Shares.Contains(code) || code.EndsWith("Probability", StringComparison.Ordinal)
            || code.EndsWith("Stability", StringComparison.Ordinal);
        return isShare ? Unit.Share : ShownGoal.UnitOf(code, Unit.Statistic);
    }

    [GeneratedRegex(@"^efficiencyAtFocus(?<offset>-?[0-9]+(?:\.[0-9]+)?)Mm$", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex EfficiencyAtFocus();
}
