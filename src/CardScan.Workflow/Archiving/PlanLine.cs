using System.Globalization;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A small card about a setting that is carried over, by the options of <c>cardscan plan</c>.</summary>
public static class PlanLine
{
    private const int Speeds = 4;

    /// <summary>Powers of the card, over that of the setting, or over the most that leaves room for one above it.</summary>
    private static readonly double[] PowerSteps = [0.75, 1, 1.25];

    private const double MostMiddlePercent = 80;

    /// <summary>The command line: three powers and four speeds, over the interval of the setting's speed.</summary>
    /// <param name="row">The setting.</param>
    /// <param name="machine">The machine that the card is for.</param>
    public static string Of(CarriedRow row, Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return string.Join(' ', new[]
        {
            "cardscan plan", $"--machine {RenameLine.Word(machine.Name)} --watts {Text(machine.RatedOpticalWatts)}",
        }.Concat(OptionsOf(row, machine).Select(option => option switch
        {
            // A focus below the surface begins with a dash.
            ("focus-offset", var value) => $"--focus-offset={value}",
            ("process", _) => "--cut",
            ("material", var name) => $"--material {RenameLine.Word(name)}",
            (var name, var value) => $"--{name} {value}",
        })));
    }

    /// <summary>Options of the card beside those of its machine, without dashes, each with its value.</summary>
    /// <param name="row">The setting.</param>
    /// <param name="machine">The machine that the card is for.</param>
    public static IEnumerable<(string Name, string Value)> OptionsOf(CarriedRow row, Machine machine)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(machine);
        (CardEntry card, RecommendationEntry old) = (row.From.Card, row.From.Recommendation);
        yield return ("material", card.Material);
        if (card.ThicknessMm is { } mm) yield return ("thickness", Text(mm));
        if (card.Process == Process.Cut) yield return ("process", EnumName.Of(card.Process));
        yield return ("power", string.Join(',', PowersOf(row.Setting).Select(Text)));
        yield return ("speed", string.Join(',', SpeedsOf(row.Setting, machine).Select(Text)));
        if (old.Passes is > 1 and { } passes) yield return ("passes", Text(passes));
        if (old.FocusOffsetMm is { } focus && focus != 0) yield return ("focus-offset", Text(focus));
        if (card.Process == Process.Engrave && old.LineIntervalMm is { } interval) yield return ("line-interval", Text(interval));
    }

    private static IEnumerable<double> PowersOf(CarriedSetting setting)
    {
        double middle = Math.Min(setting.PowerPercent, MostMiddlePercent);
        return PowerSteps.Select(step => Math.Max(1, Math.Round(step * middle))).Distinct();
    }

    private static IEnumerable<double> SpeedsOf(CarriedSetting setting, Machine machine)
    {
        double low = Math.Min(setting.Speed.Low, setting.SpeedMmPerMin), high = Math.Max(setting.Speed.High, setting.SpeedMmPerMin);
        if (machine.FastestFeedMmPerMin is { } fastest) (low, high) = (Math.Min(low, 0.5 * fastest), Math.Min(high, fastest));
        return Enumerable.Range(0, Speeds).Select(i => Rounding.TwoFigures(low * Math.Pow(high / low, i / (Speeds - 1.0)))).Distinct();
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
