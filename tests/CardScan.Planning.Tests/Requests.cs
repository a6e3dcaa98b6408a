using CardScan.Model;

namespace CardScan.Planning.Tests;

/// <summary>A request that works, to be spoiled one way at a time.</summary>
internal static class Requests
{
    internal static PlanRequest Engrave => new()
    {
        Number = 17,
        Material = new() { Name = "birch plywood", ThicknessMm = 3 },
        Machine = new() { Name = "bench diode", RatedOpticalWatts = 10 },
        Settings = [Range(Setting.PowerPercent, "20:95:6"), Range(Setting.SpeedMmPerMin, "1000,1500,2200,3300,5000")],
    };

    internal static PlanRequest Cut => Engrave with { Process = Process.Cut };

    internal static SettingRange Range(Setting setting, string text) => SettingRange.Parse(setting, text).Value;
}
