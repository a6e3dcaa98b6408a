using CardScan.Model;
using CsCheck;

namespace CardScan.Planning.Tests;

/// <summary>Random requests in range.</summary>
internal static class Generators
{
    private static readonly Gen<SettingRange[]> Settings =
        Gen.Select(
            Gen.Int[1, 9], Gen.Double[1, 40], Gen.Double[45, 100],
            Gen.Int[2, 9], Gen.Double[50, 900], Gen.Double[1000, 20000],
            (columns, low, high, rows, slow, fast) => (SettingRange[])
            [
                Spread(Setting.PowerPercent, columns, low, high),
                Spread(Setting.SpeedMmPerMin, rows, slow, fast),
            ]);

    internal static readonly Gen<PlanRequest> Request =
        Gen.Select(Gen.Bool, Gen.Int[0, 249], Settings, Gen.Double[4, 12], Gen.Double[6, 10], Gen.Double[10, 15],
            (isCut, number, settings, cell, gap, marker) => new PlanRequest
            {
                Process = isCut ? Process.Cut : Process.Engrave,
                Number = number,
                Material = new() { Name = "board" },
                Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
                Settings = settings.ToValueList(),
                CellSideMm = Math.Round(cell, 1),
                GapMm = Math.Round(gap, 1),
                MarkerSideMm = Math.Round(marker, 1),
            });

    private static SettingRange Spread(Setting setting, int count, double low, double high) =>
        new(setting, Enumerable.Range(0, count).Select(i => Math.Round(low + (high - low) * i / Math.Max(1, count - 1), 2)).ToValueList());
}
