using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>The numbers that an option takes.</summary>
/// <param name="Least">The least of them.</param>
/// <param name="Most">The largest.</param>
/// <param name="Unit">Their unit; a number may be given in others of its kind.</param>
internal sealed record NumberRange(double Least, double Most, Unit Unit = Unit.None)
{
    /// <summary>True where the least is no longer taken.</summary>
    public bool IsAbove { get; init; }

    /// <summary>True where the largest is no longer taken.</summary>
    public bool IsBelow { get; init; }

    /// <summary>True for counts.</summary>
    public bool IsWhole { get; init; }

    /// <summary>The few numbers that are taken; null where every one between the limits is.</summary>
    public double[]? Among { get; init; }

    /// <summary>What to give, where more is to be said than the limits.</summary>
    public Phrase? Told { get; init; }

    /// <summary>What to give, where a number is not taken.</summary>
    public Phrase Phrase => Told ?? new Phrase("option.range",
        ("kind", IsWhole ? "whole" : IsAbove ? "above" : IsBelow ? "below" : "between"),
        ("least", In(Unit, Least)), ("most", In(Unit, Most)));

    /// <summary>Numbers from one limit to the other, without fractions.</summary>
    public static NumberRange Whole(double least, double most) => new(least, most) { IsWhole = true };

    /// <summary>Numbers above zero.</summary>
    public static NumberRange Positive(double most, Unit unit) => new(0, most, unit) { IsAbove = true };

    /// <summary>Whether a number is taken.</summary>
    public bool Takes(double value) => (IsAbove ? value > Least : value >= Least) && (IsBelow ? value < Most : value <= Most)
        && (!IsWhole || double.IsInteger(value)) && Among?.Contains(value) != false;
}
