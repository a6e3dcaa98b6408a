using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>What the archive holds, in words.</summary>
internal static class ArchiveWords
{
    /// <summary>"birch plywood 3 mm".</summary>
    public static string Material(CardEntry card) => card.ThicknessMm is { } mm ? $"{card.Material} {Figures.Plain(mm)} mm" : card.Material;

    /// <summary>Everything that must be entered to repeat it: "1500 mm/min at 80 %, 2 passes, line interval 0.1 mm"; and the earlier card that it stands on.</summary>
    public static string Setting(RecommendationEntry recommendation)
    {
        string line = $"{Figures.Plain(recommendation.SpeedMmPerMin)} mm/min at {Figures.Plain(recommendation.PowerPercent)} %";
        if (recommendation.Passes is { } passes) line += passes == 1 ? ", 1 pass" : $", {passes} passes";
        if (recommendation.LineIntervalMm is { } interval) line += $", line interval {Figures.Plain(interval)} mm";
        if (recommendation.FocusOffsetMm is { } focus && focus != 0) line += $", focus offset {Figures.Plain(focus)} mm";
        return recommendation.Card is { } card ? $"{line}, on card {card}" : line;
    }

    /// <summary>What the goal is judged by, from the lower to the upper limit: "89 % to 92 % of the strongest mark".</summary>
    public static string Interval(Interval interval) => interval.Quantity switch
    {
        "shareOfStrongestMark" => $"{ReadingSummary.Percent(interval.Low)} to {ReadingSummary.Percent(interval.High)} of the strongest mark",
        "probabilityThrough" => $"through with {ReadingSummary.Percent(interval.Low)} to {ReadingSummary.Percent(interval.High)}",
        _ => $"{interval.Quantity} {Figures.Hundredths(interval.Low)} to {Figures.Hundredths(interval.High)}",
    };

    /// <summary>A time, UTC: "2026-11-25 10:31 UTC".</summary>
    public static string Time(DateTimeOffset time) => $"{time:yyyy-MM-dd HH:mm} UTC";
}
