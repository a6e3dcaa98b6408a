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

    internal static PlanRequest Ladder => Engrave with
    {
        Kind = CardKind.FocusLadder,
        CellSideMm = 12,
        Machine = Bench,
        Settings = [Range(Setting.PowerPercent, "20,40,80"), Range(Setting.SpeedMmPerMin, "1500"), Range(Setting.FocusOffsetMm, "-2:2:5")],
    };

    /// <summary>A machine that tells everything.</summary>
    internal static Machine Bench => new()
    {
        Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 455, WorkArea = new() { WidthMm = 400, HeightMm = 380 },
        FastestFeedMmPerMin = 6000, FullPowerS = 1000,
        BeamMode = BeamMode.Constant, BeamXMm = 0.08, BeamYMm = 0.1, AccelerationMmPerS2 = 800,
    };

    /// <summary>What was seen, then what to do: both of them whole sentences.</summary>
    internal static string Told(this Refusal refusal)
    {
        Assert.All([refusal.Seen, refusal.Remedy], sentence => Assert.EndsWith(".", sentence));
        return $"{refusal.Seen} {refusal.Remedy}";
    }

    internal static SettingRange Range(Setting setting, string text) => SettingRange.Parse(setting, text).Value;
}
