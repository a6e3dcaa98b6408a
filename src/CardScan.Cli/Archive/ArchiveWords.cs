using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>What the archive holds, in words.</summary>
internal static class ArchiveWords
{
    /// <summary>"birch plywood 3 mm".</summary>
    public static string Material(CardEntry card) => card.ThicknessMm is { } mm ? $"{card.Material} {Figures.Plain(mm)} mm" : card.Material;

    /// <summary>"1500 mm/min at 80 %".</summary>
    public static string Setting(Recommendation recommendation) => $"{Figures.Plain(recommendation.SpeedMmPerMin)} mm/min at {Figures.Plain(recommendation.PowerPercent)} %";

    /// <summary>A time, UTC: "2026-11-25 10:31 UTC".</summary>
    public static string Time(DateTimeOffset time) => $"{time:yyyy-MM-dd HH:mm} UTC";
}
