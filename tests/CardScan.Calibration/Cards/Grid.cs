using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Powers (columns) by speeds (rows) of a simulated card.</summary>
internal sealed record Grid(Process Process, double[] PowersPercent, double[] SpeedsMmPerMin)
{
    /// <summary>A square grid over the range that makers burn: powers evenly spaced, speeds by a constant ratio.</summary>
    public static Grid Square(Process process, int side) => process == Process.Engrave
        ? new(process, Even(20, 95, side), ByRatio(1000, 5000, side))
        : new(process, Even(40, 100, side), ByRatio(130, 520, side));

    public double MiddleSpeed => Math.Exp(SpeedsMmPerMin.Average(Math.Log));

    public Plan Plan => TestPlan.Of(Process, PowersPercent, SpeedsMmPerMin);

    public IEnumerable<(double PowerPercent, double SpeedMmPerMin)> Settings =>
        from speed in SpeedsMmPerMin from power in PowersPercent select (power, speed);

    /// <summary>The settings outside of some rows and columns.</summary>
    public IEnumerable<(double PowerPercent, double SpeedMmPerMin)> SettingsBut(Gaps gaps) =>
        from speed in SpeedsMmPerMin.Index()
        from power in PowersPercent.Index()
        where !gaps.Hide(speed.Index, power.Index)
        select (power.Item, speed.Item);

    private static double[] Even(double from, double to, int count) =>
        [.. Enumerable.Range(0, count).Select(i => from + (to - from) * i / (count - 1))];

    private static double[] ByRatio(double from, double to, int count) =>
        [.. Enumerable.Range(0, count).Select(i => from * Math.Pow(to / from, (double)i / (count - 1)))];
}
