using CardScan.Language;
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

    /// <summary>Cards of the usual sizes, which have room for every label.</summary>
    internal static readonly Gen<PlanRequest> Request = OfSizes(leastCellMm: 4, leastGapMm: 6, leastMarkerMm: 10);

    /// <summary>Small cards too, where long values may find no room beside the grid.</summary>
    internal static readonly Gen<PlanRequest> AnySize =
        OfSizes(PlanRequest.LeastCellMm, PlanRequest.LeastGapMm, PlanRequest.LeastMarkerMm);

    private static Gen<PlanRequest> OfSizes(double leastCellMm, double leastGapMm, double leastMarkerMm) =>
        Gen.Select(Gen.Bool, Gen.Int[0, 249], Settings, Gen.Double[leastCellMm, 12], Gen.Double[leastGapMm, 10],
            Gen.Double[leastMarkerMm, 15],
            (isCut, number, settings, cell, gap, marker) => new PlanRequest
            {
                Process = isCut ? Process.Cut : Process.Engrave,
                Number = number,
                Material = new() { Name = "board" },
                Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
                Settings = settings.ToValueList(),
                CellSideMm = Math.Round(isCut ? Math.Max(4, cell) : cell, 1),
                GapMm = Math.Round(isCut ? Math.Max(6, gap) : gap, 1),
                MarkerSideMm = Math.Round(marker, 1),
            }).Where(request => CardPlanner.MakePlan(request).Refusal is null or { Code: not Codes.PlanValue });

    private static readonly Gen<Machine> Machines =
        Gen.Select(Gen.Int[0, 4].Select(i => new[] { 1.0, 100, 255, 1000, 65535 }[i]), Gen.Enum<BeamMode>(), Gen.Bool,
            Gen.Double[100, 5000], Gen.Double[2, 130], Gen.Double[0, 30], Gen.Enum<AirSwitch>(),
            (fullPower, mode, hasZ, acceleration, watts, room, air) => new Machine
            {
                Name = "bench",
                RatedOpticalWatts = watts,
                WorkArea = new() { WidthMm = 400 + room, HeightMm = 400 },
                FastestFeedMmPerMin = 20_000,
                FullPowerS = fullPower,
                BeamMode = mode == BeamMode.Constant ? null : mode,
                AirSwitch = air,
                AccelerationMmPerS2 = acceleration,
                PoweredZ = hasZ ? new() { LowestMm = -8, HighestMm = 5 } : null,
            });

    /// <summary>Two settings with several values, any two of them, and the others with one.</summary>
    private static Gen<SettingRange[]> Any(bool hasInterval, bool isLadder) =>
        Gen.Select(Gen.Shuffle(Enum.GetValues<Setting>()), Gen.Int[1, 4], Gen.Int[2, 4], Gen.Double[0, 1],
            (order, columns, rows, at) => (SettingRange[])
            [
                .. (isLadder ? order.OrderBy(setting => setting != Setting.FocusOffsetMm) : order.AsEnumerable())
                    .Where(setting => setting != Setting.PrintedDensity && (hasInterval || setting != Setting.LineIntervalMm))
                    .Select((setting, i) => Spread(setting, i == 0 ? (isLadder ? 4 : rows) : i == 1 ? columns : 1, at)),
            ]);

    private static SettingRange Spread(Setting setting, int count, double at) => setting switch
    {
        Setting.PowerPercent => Spread(setting, count, 3 + 20 * at, 100),
        Setting.SpeedMmPerMin => Spread(setting, count, 60 + 3000 * at, 5000 + 15_000 * at),
        Setting.Passes => new(setting, Enumerable.Range(1, count).Select(i => (double)i).ToValueList()),
        Setting.FocusOffsetMm => Spread(setting, count, -4 * at, 4.5),
        _ => Spread(setting, count, 0.05 + 0.1 * at, 0.4),
    };

    /// <summary>Random cards of every kind for random machines.</summary>
    internal static readonly Gen<PlanRequest> Job =
        from kind in Gen.Int[0, 2]
        from settings in Any(kind == 0, kind == 2)
        from machine in Machines
        from cell in Gen.Double[4, 9]
        from tabs in Gen.Int[0, 3]
        from number in Gen.Int[0, 249]
        from isFramed in Gen.Bool
        from step in Gen.Double[0, 1]
        from pause in Gen.Int[0, 20]
        select new PlanRequest
        {
            Process = kind == 1 ? Process.Cut : Process.Engrave,
            Kind = kind == 2 ? CardKind.FocusLadder : CardKind.Grid,
            Number = number,
            Material = new() { Name = "board" },
            Machine = machine,
            Settings = settings.ToValueList(),
            CellSideMm = Math.Round(kind == 2 ? cell + 6 : cell, 2),
            TabsPerSide = kind == 1 ? tabs : 0,
            Frame = isFramed && kind == 0 ? Paper.A4 : null,
            AirAssist = pause > 10 ? new() { IsOn = tabs > 1, Pressure = "0.5 bar" } : null,
            FocusStepMm = kind == 1 && settings.Any(range => range.Setting == Setting.Passes && range.Values[^1] > 1)
                ? Math.Round(step, 2) : null,
            CellPauseS = pause,
        };

    private static SettingRange Spread(Setting setting, int count, double low, double high) =>
        new(setting, Enumerable.Range(0, count).Select(i => Math.Round(low + (high - low) * i / Math.Max(1, count - 1), 2)).ToValueList());
}
