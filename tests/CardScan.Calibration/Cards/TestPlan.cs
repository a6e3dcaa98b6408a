using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Plans of powers (columns) by speeds (rows).</summary>
internal static class TestPlan
{
    private const int Number = 7;

    public static Plan Of(Process process, double[] powersPercent, double[] speedsMmPerMin, double ratedOpticalWatts = 10,
        double lineIntervalMm = 0.1) => new()
    {
        Format = Plan.CurrentFormat,
        Number = Number,
        Process = process,
        Material = new() { Name = "test sheet", ThicknessMm = 3 },
        Machine = new() { Name = "test bench", RatedOpticalWatts = ratedOpticalWatts },
        Card = new() { WidthMm = 60 + 10 * powersPercent.Length, HeightMm = 60 + 10 * speedsMmPerMin.Length },
        Fiducials = new()
        {
            Dictionary = Fiducials.OnlyDictionary,
            SideMm = 10,
            Markers = Markers(60 + 10 * powersPercent.Length, 60 + 10 * speedsMmPerMin.Length)
        },
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

    private static ValueList<Marker> Markers(double widthMm, double heightMm) =>
    [
        new() { Id = 4 * Number, XMm = 4, YMm = 4 },
        new() { Id = 4 * Number + 1, XMm = widthMm - 14, YMm = 4 },
        new() { Id = 4 * Number + 2, XMm = widthMm - 14, YMm = heightMm - 14 },
        new() { Id = 4 * Number + 3, XMm = 4, YMm = heightMm - 14 },
    ];
}
