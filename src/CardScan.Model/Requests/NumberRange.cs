using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Model;

/// <summary>The numbers that an option takes.</summary>
/// <param name="Least">The least of them.</param>
/// <param name="Most">The largest.</param>
/// <param name="Unit">Their unit; a number may be given in others of its kind.</param>
public sealed record NumberRange(double Least, double Most, Unit Unit = Unit.None)
{
    /// <summary>True where the least is no longer taken.</summary>
    public bool IsAbove { get; init; }

    /// <summary>True where the largest is no longer taken.</summary>
    public bool IsBelow { get; init; }

    /// <summary>True for counts.</summary>
    public bool IsWhole { get; init; }

    /// <summary>The few numbers that are taken; null where every one between the limits is.</summary>
    public ValueList<double>? Among { get; init; }

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

    /// <summary>The numbers that an option of a plan, a machine or a material takes.</summary>
    /// <param name="option">Its name with the dashes.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such option.</exception>
    public static NumberRange OfOption(string option) => option switch
    {
        "--watts" => Positive(100_000, Unit.Watts),
        "--wavelength" => new(150, 12_000, Unit.Nm),
        "--fastest-feed" => new(1, 1_000_000, Unit.MmPerMin),
        "--full-power-s" => new(1, 1_000_000),
        "--acceleration" => new(1, 1_000_000, Unit.MmPerS2),
        "--thickness" => Positive(1000, Unit.Mm),
        "--mark-power" => Positive(100, Unit.Percent),
        "--mark-speed" => new(10, 1_000_000, Unit.MmPerMin) { Told = new Phrase("option.mark-speed.range") },
        "--focus-step" => new(0, BurningRules.MostFocusStepMm, Unit.Mm),
        "--pass-pause" or "--cell-pause" => new(0, BurningRules.MostPauseS, Unit.Seconds),
        "--number" => Whole(0, Plan.Numbers - 1),
        "--times" => Whole(1, InvitationToMake.MostTimes),
        "--days" => Whole(1, InvitationToMake.MostDays),
        "--seed" => Whole(0, int.MaxValue),
        "--tabs" => Whole(0, 3),
        "--tab-length" => new(0.2, 2, Unit.Mm),
        "--cell" => new(PlanRequest.LeastCellMm, 50, Unit.Mm) { Told = new Phrase("option.cell.range") },
        "--gap" => new(PlanRequest.LeastGapMm, 50, Unit.Mm) { Told = new Phrase("option.gap.range") },
        "--marker" => new(PlanRequest.LeastMarkerMm, 15, Unit.Mm) { Told = new Phrase("option.marker.range") },
        "--pointer-power" => Positive(CardExtras.MostPointerPercent, Unit.Percent) with
        {
            Told = new Phrase("option.pointer-power.range", ("most", Power(CardExtras.MostPointerPercent))),
        },
        _ => throw new ArgumentOutOfRangeException(nameof(option), option, "No such option."),
    };
}
