using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Comparing;

/// <summary>What a maker reads about a comparison.</summary>
internal static class ComparisonMessages
{
    /// <summary>Control limits of fewer cards are rough.</summary>
    private const int FewestForLimits = 10;

    /// <summary>Times the cells that a card to burn for a clearer answer may have.</summary>
    private const int FewestTimes = 2, MostTimes = 20;

    /// <summary>More cells than the narrowest that would do, so that chance does not spoil it.</summary>
    private const double Reserve = 1.5;

    /// <summary>Smallest probability that is told as one.</summary>
    private const double LeastProbability = 1e-6;

    public static Advice NothingMeasured() => new(Codes.CompareNothingMeasured);

    public static Advice NoMark() => new(Codes.CompareNoMark);

    public static Advice TooFewCells() => new(Codes.CompareTooFewCells);

    public static Advice NoCurve() => new(Codes.CompareNoCurve);

    public static Advice OtherDirection() => new(Codes.CompareOtherDirection);

    public static Advice OtherFocus() => new(Codes.CompareOtherFocus);

    public static Advice AllSidesAlike() => new(Codes.CompareAllSidesAlike);

    public static Advice OwnStrength(ComparedLabels labels, double strengthRatio) =>
        new(Codes.OwnStrength, [.. labels.Values, ("share", Share(strengthRatio))]);

    public static Advice UnlikePhotos(double lnLow, double lnHigh) =>
        new(Codes.UnlikePhotos, ("low", In(Unit.Factor, Math.Exp(lnLow))), ("high", In(Unit.Factor, Math.Exp(lnHigh))));

    public static Advice TonesApart(PairTones tones) => new(tones switch
    {
        PairTones.Known => Codes.TonesKnown,
        PairTones.OneScale => Codes.TonesOneScale,
        _ => Codes.TonesApart,
    });

    /// <summary>A difference of less than half a percent is not told.</summary>
    public static Advice OneLight(double drawnOut) => new(Codes.OneLight,
        ("drawn", Math.Abs(drawnOut) < 0.005 ? "alike" : drawnOut > 0 ? "stronger" : "weaker"), ("share", Share(Math.Abs(drawnOut))));

    public static Advice OnePlan() => new(Codes.OnePlan);

    /// <summary>What the plans say of the cause; the figures alone cannot tell it.</summary>
    public static Advice Cause(Plan first, Plan later)
    {
        if (!MakerName.AreSame(first.Machine.Name, later.Machine.Name)
            || first.Machine.RatedOpticalWatts != later.Machine.RatedOpticalWatts)
            return new(Codes.OtherMachine);
        if (!MakerName.AreSame(first.Material.Name, later.Material.Name) || first.Material.ThicknessMm != later.Material.ThicknessMm)
            return new(Codes.OtherMaterial);
        if (first.Fixed.AirAssist is { } air && later.Fixed.AirAssist is { } other && air != other)
            return new(Codes.OtherAir, ("air", air.ToFigure()), ("other", other.ToFigure()));
        if (first.Material.Batch is not { Length: > 0 } a || later.Material.Batch is not { Length: > 0 } b) return new(Codes.BatchUnnamed);
        return new(MakerName.AreSame(a, b) ? Codes.CauseMachine : Codes.CauseBatch);
    }

    public static ValueList<Reason> Equal(ComparedLabels labels, DoseEstimate dose, double margin, SettingChange? forWatts)
    {
        Reason equal = new(Codes.PairEqual,
            [.. Needs(labels, dose), ("margin", MarginOf(margin)), ("watts", forWatts is null ? "alike" : "differ")]);
        return forWatts is null ? [equal] : [equal, Change(forWatts)];
    }

    public static ValueList<Reason> Different(
        ComparedLabels labels, DoseEstimate dose, SettingChange? change, Recommendation? setting, CardPasses passes) =>
    [
        new(Codes.PairDifferent, Needs(labels, dose)),
        change is not null ? Change(change)
            : setting is null ? new(Codes.PairNoSetting, labels.Values)
            : BeyondCards(labels, dose, setting, passes),
    ];

    /// <param name="labels">The two.</param>
    /// <param name="dose">The relative dose.</param>
    /// <param name="margin">Difference that counts as none.</param>
    /// <param name="setting">Where more cells would tell most; null where nothing is recommended.</param>
    /// <param name="isByPhotos">True where photos taken apart leave it unclear, which no more cells change.</param>
    public static ValueList<Reason> Unclear(
        ComparedLabels labels, DoseEstimate dose, double margin, Recommendation? setting, bool isByPhotos)
    {
        (string, Figure)[] values =
        [
            .. Needs(labels, dose), ("margin", MarginOf(margin)), ("times", MoreCells(dose, margin)),
            ("by", isByPhotos ? "photos" : "cells"),
        ];
        return [new(Codes.PairUnclear, setting is null
            ? values
            : [.. values, ("near", new SettingFigure(setting.SpeedMmPerMin, setting.PowerPercent))])];
    }

    public static ValueList<Reason> Unbounded(ComparedLabels labels) => [new(Codes.PairUnbounded, labels.Values)];

    public static ValueList<Reason> OtherShape(ComparedLabels labels, ShapeTest shape) =>
        [new(Codes.PairOtherShape, [.. labels.Values, ("chance", Share(Math.Max(LeastProbability, shape.Probability)))])];

    public static ValueList<Reason> Obstacle(Advice obstacle) => [new(Codes.PairObstacle), new(obstacle.Code)];

    /// <summary>What the control chart tells.</summary>
    /// <param name="outside">Labels of the cards outside the limits.</param>
    /// <param name="trend">+1 where the last six rise, −1 where they fall, else 0.</param>
    /// <param name="cards">Cards on the chart.</param>
    /// <param name="isOneBatch">True where all plans name one batch and one machine.</param>
    public static IEnumerable<Reason> ChartFinding(IReadOnlyList<string> outside, int trend, int cards, bool isOneBatch)
    {
        if (trend != 0) yield return new(Codes.ChartDrift, ("turn", trend > 0 ? "more" : "less"));
        else if (outside.Count > 0) yield return new(Codes.ChartOutside, ("outside", List(outside)), ("count", outside.Count));
        else yield return new(Codes.ChartWithin);
        if (trend != 0 || outside.Count > 0) yield return new(Codes.ChartCause, ("alike", Is(isOneBatch)));
        if (cards < FewestForLimits) yield return new(Codes.ChartRough, ("cards", cards));
    }

    private static IEnumerable<(string, Figure)> Needs(ComparedLabels labels, DoseEstimate dose) =>
        [.. labels.Values, ("ratio", In(Unit.Factor, Math.Exp(dose.LnRatio), Math.Exp(dose.Low), Math.Exp(dose.High)))];

    private static Reason BeyondCards(ComparedLabels labels, DoseEstimate dose, Recommendation setting, CardPasses passes)
    {
        SettingFigure own = new(setting.SpeedMmPerMin, setting.PowerPercent, passes.Varied ? passes.Own : 1);
        (string, Figure)[] values = [.. labels.Values, ("turn", dose.LnRatio > 0 ? "slower" : "faster"), ("setting", own)];
        return new(Codes.PairBeyondCards, passes.Varied ? [.. values, ("passes", passes.Own)] : values);
    }

    private static Reason Change(SettingChange change)
    {
        bool isSpeed = change.Interval.Quantity == SettingTransfer.SpeedQuantity;
        (double from, double to) = isSpeed
            ? (change.FromSpeedMmPerMin, change.ToSpeedMmPerMin)
            : (change.FromPowerPercent, change.ToPowerPercent);
        Unit unit = isSpeed ? Unit.MmPerMin : Unit.Percent;
        return new(Codes.PairChange,
            ("axis", isSpeed ? "speed" : "power"), ("turn", from == to ? "keep" : to < from ? "lower" : "raise"),
            ("from", In(unit, from)), ("to", In(unit, to, change.Interval.Low, change.Interval.High)),
            ("kept", isSpeed ? Power(change.FromPowerPercent) : Speed(change.FromSpeedMmPerMin)));
    }

    /// <summary>An interval shrinks with the root of the cells.</summary>
    private static int MoreCells(DoseEstimate dose, double margin)
    {
        double half = (dose.TestHigh - dose.TestLow) / 2;
        return (int)Math.Clamp(Math.Ceiling(Math.Pow(half / Math.Log(1 + margin), 2) * Reserve), FewestTimes, MostTimes);
    }

    private static Number MarginOf(double margin) => In(Unit.Percent, 100 * margin);
}

/// <summary>The names by which two compared cards go.</summary>
/// <param name="Reference">The first.</param>
/// <param name="Other">The later one.</param>
internal readonly record struct ComparedLabels(string Reference, string Other)
{
    /// <summary>The same for a sentence.</summary>
    public IEnumerable<(string, Figure)> Values => [("reference", Reference), ("other", Other)];
}
