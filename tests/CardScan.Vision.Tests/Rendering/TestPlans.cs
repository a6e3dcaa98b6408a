using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>Plans of cards that the renderer can draw (numbers 0 to 14, whose marker bits are in the reference table).</summary>
internal static class TestPlans
{
    public const int Number = 7;

    /// <summary>120 mm × 100 mm, five columns by four rows of 8 mm cells, 10 mm markers 4 mm from the rim.</summary>
    public static PlanFile Engraved(int number = Number)
    {
        Plan plan = new()
        {
            Format = Plan.CurrentFormat,
            Number = number,
            Process = Process.Engrave,
            Material = new() { Name = "grey board" },
            Machine = new() { Name = "rendered", RatedOpticalWatts = 10 },
            Card = new() { WidthMm = 120, HeightMm = 100 },
            Fiducials = new()
            {
                Dictionary = Fiducials.OnlyDictionary,
                SideMm = 10,
                Markers = [MarkerAt(0, 4, 4), MarkerAt(1, 106, 4), MarkerAt(2, 106, 86), MarkerAt(3, 4, 86)],
            },
            Columns = new() { Setting = Setting.PowerPercent, Values = [20, 40, 60, 80, 100] },
            Rows = new() { Setting = Setting.SpeedMmPerMin, Values = [1000, 2000, 3000, 4000] },
            Fixed = new() { LineIntervalMm = 0.1 },
            Cells = [.. Enumerable.Range(0, 20).Select(i => new Cell
            {
                Row = i / 5,
                Column = i % 5,
                XMm = 24 + 16 * (i % 5),
                YMm = 20 + 17 * (i / 5),
                WidthMm = 8,
                HeightMm = 8
            })],
        };
        return new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));

        Marker MarkerAt(int place, double x, double y) => new() { Id = 4 * number + place, XMm = x, YMm = y };
    }

    /// <summary>The same card with smaller cells about the same centres.</summary>
    public static PlanFile WithCellsOf(double sizeMm)
    {
        PlanFile file = Engraved();
        return file with
        {
            Plan = file.Plan with
            {
                Cells = [.. file.Plan.Cells.Select(cell => cell with
                {
                    XMm = cell.XMm + (cell.WidthMm - sizeMm) / 2,
                    YMm = cell.YMm + (cell.HeightMm - sizeMm) / 2,
                    WidthMm = sizeMm,
                    HeightMm = sizeMm
                })],
            },
        };
    }
}
