using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>What is said of settings that are carried over.</summary>
public static class CarryWords
{
    /// <summary>What the cards on both machines tell, and how little the watts alone are worth.</summary>
    public static Phrase ToFigure(this CarriedProcess process)
    {
        ArgumentNullException.ThrowIfNull(process);
        Interval factor = process.Factor;
        return new("carry.shift",
            ("cards", process.BurnedOnBoth.Count), ("materials", List(process.BurnedOnBoth.Select(each => (Figure)each))),
            ("factor", In(Unit.Factor, factor.Value)), ("low", In(Unit.Factor, factor.Low)), ("high", In(Unit.Factor, factor.High)),
            ("odd", process.Odd.Count), ("odd-names", List(process.Odd.Select(each => (Figure)each))));
    }

    /// <summary>A setting to try.</summary>
    public static Phrase TryFigure(this CarriedRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return new("carry.try", ("goal", GoalName.Of(row.Setting.Goal, null, null)),
            ("setting", new SettingFigure(row.Setting.SpeedMmPerMin, row.Setting.PowerPercent)),
            ("passes", row.From.Recommendation.Passes ?? 1), ("rest", row.From.RestFigure()));
    }

    /// <summary>How far off it may be, and where it comes from.</summary>
    public static Phrase RangeFigure(this CarriedRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        RecommendationEntry old = row.From.Recommendation;
        (Interval speed, Interval same) = (row.Setting.Speed, row.Setting.SameDelivery);
        return new("carry.range", Known(("cut", Is(row.Setting.Goal is Goal.SureCut or Goal.CleanCut)),
            ("low", Speed(speed.Low)), ("high", Speed(speed.High)), ("batch", Text(row.From.Card.Batch)),
            ("same-low", Speed(same.Low)), ("same-high", Speed(same.High)), ("power", Power(old.PowerPercent)),
            ("old", new SettingFigure(old.SpeedMmPerMin, old.PowerPercent)), ("reading", row.From.ReadingName)));
    }

    /// <summary>Why a material is left out.</summary>
    /// <param name="left">The material.</param>
    /// <param name="to">The new machine.</param>
    public static Phrase ToFigure(this LeftOutMaterial left, Machine to)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(to);
        return new("carry.left-out", Known(("material", left.Material), ("why", left.Why),
            ("interval", left.LineIntervalMm is { } interval ? Mm(interval) : null),
            ("beam", to.BeamYMm is { } beam ? Mm(beam) : null)));
    }

    /// <summary>Which cards to burn first, and what one of them would bring.</summary>
    public static Phrase FirstFigure(this CarriedProcess process)
    {
        ArgumentNullException.ThrowIfNull(process);
        (Interval now, Interval then) = (process.Factor, process.AfterOneMore);
        return new("carry.first",
            ("low", In(Unit.Factor, now.Low / now.Value)), ("high", In(Unit.Factor, now.High / now.Value)),
            ("then-low", In(Unit.Factor, then.Low / then.Value)), ("then-high", In(Unit.Factor, then.High / then.Value)));
    }
}
