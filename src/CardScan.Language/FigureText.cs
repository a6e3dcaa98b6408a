namespace CardScan.Language;

/// <summary>The one spelling of every kind of value.</summary>
internal sealed class FigureText(LanguageFile language)
{
    /// <summary>A value as it stands in a sentence.</summary>
    /// <param name="figure">The value.</param>
    /// <param name="isBare">True for a number without its unit.</param>
    /// <param name="isSentence">True for a list whose last item follows an "and".</param>
    public string Of(Figure figure, bool isBare = false, bool isSentence = false) => figure switch
    {
        Number { Unit: Unit.MmPerMin } speed when Voice.Speeds == SpeedUnit.MmPerS => Of(PerSecond(speed), isBare),
        Number { Low: { } low, High: { } high } number =>
            Say("figure.interval", ("value", Value(number, isBare)), ("low", Limit(low, number)), ("high", Limit(high, number))),
        Number number => Value(number, isBare),
        Word word => word.Text,
        OptionName option => Of(option),
        SettingFigure setting => Of(setting),
        Listing { Items: { Count: > 1 } items } when isSentence =>
            Say("figure.list-and", ("first", new Listing([.. items.SkipLast(1)])), ("last", items[^1])),
        Listing listing => string.Join(language.Say("figure.list-separator", []), listing.Items.Select(item => Of(item, isBare))),
        Phrase phrase => language.Say(phrase.Code, phrase.Values),
        _ => throw new ArgumentOutOfRangeException(nameof(figure)),
    };

    /// <summary>Name of the unit that speeds are told in, for headings.</summary>
    public string SpeedUnitName => Say("figure.speed-unit", ("unit", $"{Voice.Speeds}"));

    private static Number PerSecond(Number speed) =>
        new(speed.Value / 60, Unit.MmPerS, speed.Low / 60, speed.High / 60);

    /// <summary>By its name in the terminal, by the label of its field on the page.</summary>
    private string Of(OptionName option)
    {
        string name = option.Text.TrimStart('-');
        return Voice.IsOnPage && Voice.Knows($"field.{name}") ? Say("figure.field", ("label", Say($"field.{name}"))) : option.Text;
    }

    private string Value(Number number, bool isBare) => isBare ? Bare(number.Value, number.Unit) : WithUnit(number.Value, number.Unit);

    private string Of(SettingFigure setting)
    {
        List<(string, Figure)> values =
            [("speed", Figures.Speed(setting.SpeedMmPerMin)), ("power", Figures.Power(setting.PowerPercent)), ("passes", setting.Passes)];
        if (setting.LineIntervalMm is { } interval) values.Add(("interval", Figures.Mm(interval)));
        if (setting.FocusOffsetMm is { } focus) values.Add(("focus", Figures.Mm(focus + 0.0)));
        return language.Say("figure.setting", values);
    }

    private string WithUnit(double value, Unit unit) => unit switch
    {
        Unit.None or Unit.Given => Bare(value, unit),
        Unit.Seconds => Duration(value),
        Unit.Share when value is > 0.9995 and < 1 => Say("figure.share-over", ("limit", "99.9")),
        Unit.Share when value is > 0 and < 0.0005 => Say("figure.share-under", ("limit", "0.1")),
        Unit.Bytes => Bytes(value),
        Unit.Statistic when Math.Abs(value) is > 0 and < 0.0001 => Say("figure.statistic-under", ("limit", "0.0001")),
        _ => Say($"unit.{unit}", ("value", Bare(value, unit))),
    };

    /// <summary>A number as everybody rounds it: to what a maker dials, or to what was measured.</summary>
    private static string Bare(double value, Unit unit) => (value + 0.0).ToString(unit switch
    {
        Unit.OffsetMm => "+0.##;−0.##;0",
        Unit.Statistic => $"0.{new string('#', Math.Clamp(3 - (int)Math.Floor(Math.Log10(Math.Max(Math.Abs(value), 0.0001))), 0, 7))}",
        Unit.MmPerMin or Unit.Percent or Unit.Watts or Unit.Degrees or Unit.Pixels or Unit.PxPerMm or Unit.Lightness => "0.#",
        // As exact as the mm/min that it stands for: one mm/min is 0.017 mm/s.
        Unit.MmPerS => Math.Abs(value) < 10 ? "0.###" : "0.##",
        Unit.Share or Unit.Given => "",
        Unit.Mm or Unit.JPerMm or Unit.JPerMm2 => Math.Abs(value) is > 0 and < 0.1 ? "0.###" : "0.##",
        Unit.Joules or Unit.Nm or Unit.Seconds or Unit.Bytes or Unit.MmPerS2 => "0",
        Unit.Density or Unit.Contrast or Unit.Factor => "0.00",
        _ => "0.##",
    }) switch
    {
        ['-', .. string rest] when rest.AsSpan().IndexOfAnyInRange('1', '9') < 0 => rest,
        string text when unit != Unit.Share => text,
        _ => Percent(value),
    };

    /// <summary>A limit of an interval is no finer than the value.</summary>
    private static string Limit(double limit, Number number) =>
        number.Unit == Unit.Share && !IsNearAnEnd(number.Value) ? $"{100 * limit:0}" : Bare(limit, number.Unit);

    /// <summary>Whole percent, finer near both ends where it matters; what is not certain is never rounded to certainty there.</summary>
    private static string Percent(double share01) =>
        IsNearAnEnd(share01) ? $"{Math.Clamp(100 * share01, 0.1, 99.9):0.0}" : $"{100 * share01:0}";

    private static bool IsNearAnEnd(double share01) => share01 is (> 0.985 and < 1) or (> 0 and < 0.015);

    private string Duration(double seconds)
    {
        if (seconds < 10) return Say("figure.seconds", ("value", $"{seconds:0.#}"));
        if (seconds < 60) return Say("figure.seconds", ("value", $"{seconds:0}"));
        TimeSpan time = TimeSpan.FromSeconds(Math.Round(seconds));
        return time.TotalHours >= 1
            ? Say("figure.hours", ("hours", (int)time.TotalHours), ("minutes", time.Minutes))
            : Say("figure.minutes", ("minutes", time.Minutes), ("seconds", time.Seconds));
    }

    private string Bytes(double bytes) => bytes switch
    {
        < 1e3 => Say("figure.bytes", ("value", $"{bytes:0}")),
        < 1e6 => Say("figure.kilobytes", ("value", $"{bytes / 1e3:0}")),
        < 1e9 => Say("figure.megabytes", ("value", $"{bytes / 1e6:0.#}")),
        _ => Say("figure.gigabytes", ("value", $"{bytes / 1e9:0.##}")),
    };

    private string Say(string code, params IEnumerable<(string Name, Figure Value)> values) => language.Say(code, values);
}
