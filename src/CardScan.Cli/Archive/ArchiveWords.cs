using CardScan.Archive;

namespace CardScan.Cli;

/// <summary>What the archive holds, in words.</summary>
internal static class ArchiveWords
{
    /// <summary>"birch plywood 3 mm".</summary>
    public static string Material(CardEntry card) => card.ThicknessMm is { } mm ? $"{card.Material} {Figures.Plain(mm)} mm" : card.Material;

    /// <summary>Everything that must be entered to repeat it: "1500 mm/min at 80 %, 2 passes, line interval 0.1 mm".</summary>
    public static string Setting(RecommendationEntry recommendation)
    {
        string line = $"{Figures.Plain(recommendation.SpeedMmPerMin)} mm/min at {Figures.Plain(recommendation.PowerPercent)} %";
        if (recommendation.Passes is { } passes) line += passes == 1 ? ", 1 pass" : $", {passes} passes";
        if (recommendation.LineIntervalMm is { } interval) line += $", line interval {Figures.Plain(interval)} mm";
        if (recommendation.FocusOffsetMm is { } focus && focus != 0) line += $", focus offset {Figures.Plain(focus)} mm";
        return line;
    }

    /// <summary>A time, UTC: "2026-11-25 10:31 UTC".</summary>
    public static string Time(DateTimeOffset time) => $"{time:yyyy-MM-dd HH:mm} UTC";
}
