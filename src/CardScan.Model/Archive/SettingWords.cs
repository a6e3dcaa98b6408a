using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Model;

/// <summary>What is said of a setting of the archive: the same on the screen, the page and the sheet for the wall.</summary>
public static class SettingWords
{
    /// <summary>"birch plywood 3 mm · bench diode, 10 W, 455 nm".</summary>
    public static Phrase Heading(this KeptSetting setting) =>
        new("book.heading", ("material", Of(setting).Card.MaterialFigure()), ("machine", setting.MachineFigure()));

    /// <summary>The machine with what tells it from another of its name.</summary>
    public static Phrase MachineFigure(this KeptSetting setting) => Of(setting).Machine.ToFigure();

    /// <summary>The same of a machine.</summary>
    public static Phrase ToFigure(this Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        bool hasBeam = machine.BeamXMm is not null && machine.BeamYMm is not null;
        return new("book.machine", Known(
            ("name", machine.Name), ("watts", machine.NamesItsWatts ? null : In(Unit.Watts, machine.RatedOpticalWatts)),
            ("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null),
            ("beam-x", hasBeam ? Mm(machine.BeamXMm!.Value) : null), ("beam-y", hasBeam ? Mm(machine.BeamYMm!.Value) : null),
            ("mode", EnumName.Of(machine.BeamMode ?? BeamMode.Constant))));
    }

    /// <summary>The goal's name; nothing is called sure that is not.</summary>
    public static string GoalWords(this KeptSetting setting)
    {
        RecommendationEntry recommendation = Of(setting).Recommendation;
        return GoalName.Of(recommendation.Goal, recommendation.Confidence, recommendation.Interval);
    }

    /// <summary>Everything that must be entered to repeat it: speed, power, passes, line interval, air and focus.</summary>
    public static Phrase FullFigure(this KeptSetting setting) =>
        new("book.setting", ("burn", setting.BurnFigure()), ("rest", setting.RestFigure()));

    /// <summary>Speed, power and passes.</summary>
    public static Phrase BurnFigure(this KeptSetting setting)
    {
        RecommendationEntry recommendation = Of(setting).Recommendation;
        return new("book.burn",
            ("setting", new SettingFigure(recommendation.SpeedMmPerMin, recommendation.PowerPercent)),
            ("passes", recommendation.Passes ?? 1));
    }

    /// <summary>What else belongs to it: line interval, air and focus.</summary>
    public static Phrase RestFigure(this KeptSetting setting)
    {
        RecommendationEntry recommendation = Of(setting).Recommendation;
        double focus = recommendation.FocusOffsetMm ?? 0;
        return new("book.rest", Known(
            ("interval", recommendation.LineIntervalMm is { } interval ? Mm(interval) : null), ("air", setting.Air?.ToFigure()),
            ("side", focus switch { 0 => "on", < 0 => "below", _ => "above" }), ("offset", Mm(Math.Abs(focus))),
            ("card", recommendation.Card)));
    }

    /// <summary>The goal with its setting, or with what comes nearest where there is none to be called so.</summary>
    public static Phrase GoalFigure(this KeptSetting setting) => new("book.goal",
        ("goal", setting.GoalWords()), ("standing", EnumName.Of(setting.Standing)), ("setting", setting.FullFigure()));

    /// <summary>How sure it is: the probability, and the interval of the figure that the goal is judged by.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="hasInterval">False leaves the interval out.</param>
    public static Phrase SureFigure(this KeptSetting setting, bool hasInterval = true)
    {
        RecommendationEntry recommendation = Of(setting).Recommendation;
        double? best = Reading.BestEstimateOf(recommendation.Goal, recommendation.Confidence, recommendation.Interval);
        return new("book.sure", Known(
            ("chance", recommendation.Confidence is { } chance ? Share(chance) : null), ("best", best is { } known ? Share(known) : null),
            ("interval", hasInterval ? recommendation.Interval?.ToFigure() : null)));
    }

    /// <summary>"89 % to 92 % of the strongest mark".</summary>
    public static Phrase ToFigure(this Interval interval)
    {
        ArgumentNullException.ThrowIfNull(interval);
        return new("book.interval",
            ("quantity", interval.Quantity), ("low", Limit(interval.Low, interval)), ("high", Limit(interval.High, interval)));
    }

    /// <summary>The card that it comes from, its batch, its day and its reading.</summary>
    public static Phrase FromFigure(this KeptSetting setting) => new("book.from", Known(
        ("card", Of(setting).Card.Number), ("batch", Text(setting.Card.Batch)), ("day", Day(setting.ReadUtc)),
        ("reading", setting.ReadingName)));

    /// <summary>Which cards confirm it, or that none does yet.</summary>
    public static Phrase ConfirmedFigure(this KeptSetting setting)
    {
        OtherCard[] cards = [.. Of(setting).Agreeing];
        return new("book.confirmed", ("count", cards.Length), ("cards", List(cards.Select(card => (Figure)new Phrase("book.card", Known(
            ("card", card.Number), ("batch", card.IsSameBatch ? null : Text(card.Batch)), ("day", Day(card.ReadUtc)),
            ("reading", card.ReadingName)))))));
    }

    /// <summary>What a card says against it.</summary>
    public static Phrase ToFigure(this OtherCard other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return new("book.against", Known(
            ("newer", Is(other.IsNewer)), ("same", Is(other.IsSameBatch)), ("batch", Text(other.Batch)), ("card", other.Number),
            ("day", Day(other.ReadUtc)), ("reading", other.ReadingName),
            ("setting", other.Setting is var (speed, power) ? new SettingFigure(speed, power) : null)));
    }

    /// <summary>What to do about it next; null where nothing is to be done, or where the advice on bridges says it.</summary>
    public static Phrase? NextStep(this KeptSetting setting)
    {
        if (Of(setting).Bridges is not null) return null;
        if (setting.Standing == SettingStanding.Unsure) return Step("unsure", setting.ReadingName);
        if (setting.Against.FirstOrDefault(other => other.Opinion == CardOpinion.FoundNone) is { } none)
            return Step("none", none.ReadingName);
        if (setting.Against.FirstOrDefault() is { } differing)
        {
            return differing.IsNewer
                ? Step("compare", setting.ReadingName, differing.ReadingName)
                : Step("compare", differing.ReadingName, setting.ReadingName);
        }

        return setting.IsConfirmed ? null : Step("confirm", setting.ReadingName);
    }

    private static Phrase Step(string why, string reading, string? second = null) =>
        new("book.next", Known(("why", why), ("reading", reading), ("second", Text(second))));

    private static Word Day(DateTimeOffset time) => new($"{time:yyyy-MM-dd}");

    private static Number Limit(double limit, Interval interval) =>
        interval.Quantity is "shareOfStrongestMark" or "probabilityThrough" ? Share(limit) : In(Unit.Density, limit);

    private static KeptSetting Of(KeptSetting setting)
    {
        ArgumentNullException.ThrowIfNull(setting);
        return setting;
    }
}
