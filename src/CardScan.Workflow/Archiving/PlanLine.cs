using System.Globalization;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>The command line of a small card about a setting that is carried over.</summary>
public static class PlanLine
{
    private const int Speeds = 4;

    /// <summary>Powers of the card, over that of the setting, or over the most that leaves room for one above it.</summary>
    private static readonly double[] PowerSteps = [0.75, 1, 1.25];

    private const double MostMiddlePercent = 80;

    /// <summary>Three powers and four speeds, over the interval of the setting's speed.</summary>
    /// <param name="row">The setting.</param>
    /// <param name="machine">The machine that the card is for.</param>
    public static string Of(CarriedRow row, Machine machine)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(machine);
        (CarriedSetting setting, CardEntry card) = (row.Setting, row.From.Card);
        double middle = Math.Min(setting.PowerPercent, MostMiddlePercent);
        double[] powers = [.. PowerSteps.Select(step => Math.Max(1, Math.Round(step * middle))).Distinct()];
        double low = Math.Min(setting.Speed.Low, setting.SpeedMmPerMin), high = Math.Max(setting.Speed.High, setting.SpeedMmPerMin);
        if (machine.FastestFeedMmPerMin is { } fastest) (low, high) = (Math.Min(low, 0.5 * fastest), Math.Min(high, fastest));
        IEnumerable<double> speeds = Enumerable.Range(0, Speeds)
            .Select(i => Rounding.TwoFigures(low * Math.Pow(high / low, i / (Speeds - 1.0)))).Distinct();
        return string.Join(' ', Parts().Prepend("cardscan plan"));

        IEnumerable<string> Parts()
        {
            RecommendationEntry old = row.From.Recommendation;
            yield return $"--material {RenameLine.Word(card.Material)}";
            if (card.ThicknessMm is { } mm) yield return $"--thickness {Text(mm)}";
            if (card.Process == Process.Cut) yield return "--cut";
            yield return $"--machine {RenameLine.Word(machine.Name)} --watts {Text(machine.RatedOpticalWatts)}";
            yield return $"--power {string.Join(',', powers.Select(Text))} --speed {string.Join(',', speeds.Select(Text))}";
            if (old.Passes is > 1 and { } passes) yield return $"--passes {passes}";
            if (old.FocusOffsetMm is { } focus && focus != 0) yield return $"--focus-offset={Text(focus)}";
            if (card.Process == Process.Engrave && old.LineIntervalMm is { } interval) yield return $"--line-interval {Text(interval)}";
        }
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
