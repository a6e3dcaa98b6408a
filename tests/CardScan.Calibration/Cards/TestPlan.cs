using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Plans of powers (columns) by speeds (rows).</summary>
internal static class TestPlan
{
    public static Plan Of(Process process, double[] powersPercent, double[] speedsMmPerMin, double ratedOpticalWatts = 10, double lineIntervalMm = 0.1) => new()
    {
        Format = Plan.CurrentFormat,
        Number = 7,
        Process = process,
        Material = new() { Name = "test sheet", ThicknessMm = 3 },
        Machine = new() { Name = "test bench", RatedOpticalWatts = ratedOpticalWatts },
        Card = new() { WidthMm = 60 + 10 * powersPercent.Length, HeightMm = 60 + 10 * speedsMmPerMin.Length },
        Fiducials = new() { Dictionary = Fiducials.OnlyDictionary, SideMm = 10, Markers = [] },
        Columns = new() { Setting = Setting.PowerPercent, Values = powersPercent.ToValueList() },
        Rows = new() { Setting = Setting.SpeedMmPerMin, Values = speedsMmPerMin.ToValueList() },
        Fixed = new() { Passes = 1, FocusOffsetMm = 0, LineIntervalMm = lineIntervalMm },
        Cells =
        [
            .. from row in Enumerable.Range(0, speedsMmPerMin.Length)
               from column in Enumerable.Range(0, powersPercent.Length)
               select new Cell { Row = row, Column = column, XMm = 20 + 10 * column, YMm = 20 + 10 * row, WidthMm = 8, HeightMm = 8 },
        ],
    };
}
