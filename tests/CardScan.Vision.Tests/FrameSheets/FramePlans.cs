using System.Text;
using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.FrameSheets;

/// <summary>
/// Frame sheets as the planning stage lays them out: markers of 10 mm, a window 18 mm inside the rim, the grid 16 mm inside the window.
/// </summary>
internal static class FramePlans
{
    private const double RimMm = 18, MarginMm = 16, MarkerMm = 10;

    private static readonly double[] Densities = [0.1017, 0.2985, 0.5031, 0.7032, 1.0004, 1.3036];

    /// <summary>Power across, speed down, as many columns and rows as asked for.</summary>
    public static PlanFile Grid(int columns = 4, int rows = 4, double cellMm = 8, double gapMm = 6) => Of(
        new() { Setting = Setting.PowerPercent, Values = Spread(20, 100, columns) },
        new() { Setting = Setting.SpeedMmPerMin, Values = Spread(1000, 4000, rows) },
        new() { LineIntervalMm = 0.1 }, cellMm, gapMm);

    /// <summary>One row of focus offsets, which have no stronger end.</summary>
    public static PlanFile Focus() => Of(
        new() { Setting = Setting.FocusOffsetMm, Values = [-2, -1, 0, 1, 2] }, new() { Setting = Setting.Passes, Values = [1] },
        new() { PowerPercent = 60, SpeedMmPerMin = 2000, LineIntervalMm = 0.1 }, 8, 6);

    private static PlanFile Of(Axis columns, Axis rows, FixedSettings others, double cellMm, double gapMm)
    {
        double inner = 2 * MarginMm + columns.Values.Count * (cellMm + gapMm) - gapMm,
            innerHeight = 2 * MarginMm + rows.Values.Count * (cellMm + gapMm) - gapMm;
        double width = inner + 2 * RimMm, height = innerHeight + 2 * RimMm;
        Plan plan = new()
        {
            Format = Plan.CurrentFormat,
            Number = TestPlans.Number,
            Process = Process.Engrave,
            Material = new() { Name = "grey board" },
            Machine = new() { Name = "rendered", RatedOpticalWatts = 10 },
            Card = new() { WidthMm = width, HeightMm = height },
            Fiducials = new()
            {
                Dictionary = Fiducials.OnlyDictionary,
                SideMm = MarkerMm,
                Markers =
                    [MarkerAt(0, 4, 4), MarkerAt(1, width - 14, 4), MarkerAt(2, width - 14, height - 14), MarkerAt(3, 4, height - 14)],
            },
            Frame = new()
            {
                PaperWidthMm = 210,
                PaperHeightMm = 297,
                PaperXMm = (210 - width) / 2,
                PaperYMm = 6,
                Window = new() { XMm = RimMm, YMm = RimMm, WidthMm = inner, HeightMm = innerHeight },
                GreySteps = [.. Greys(8, Densities, inner), .. Greys(height - 14, [.. Densities.Reverse()], inner)],
                Rulers =
                [
                    new() { FromXMm = RimMm, FromYMm = 4, ToXMm = RimMm + Math.Floor(inner / 10) * 10, ToYMm = 4, StepMm = 1 },
                    new() { FromXMm = 4, FromYMm = RimMm, ToXMm = 4, ToYMm = RimMm + Math.Floor(innerHeight / 10) * 10, StepMm = 1 },
                ],
            },
            Columns = columns,
            Rows = rows,
            Fixed = others,
            Cells =
            [
                .. from row in Enumerable.Range(0, rows.Values.Count)
                   from column in Enumerable.Range(0, columns.Values.Count)
                   select new Cell
                   {
                       Row = row,
                       Column = column,
                       XMm = RimMm + MarginMm + column * (cellMm + gapMm),
                       YMm = RimMm + MarginMm + row * (cellMm + gapMm),
                       WidthMm = cellMm,
                       HeightMm = cellMm
                   },
            ],
        };
        return new(plan, CardJson.Sha256(Encoding.UTF8.GetBytes(CardJson.Write(plan))));
    }

    private static Marker MarkerAt(int place, double x, double y) => new() { Id = 4 * TestPlans.Number + place, XMm = x, YMm = y };

    private static IEnumerable<GreyStep> Greys(double y, double[] densities, double inner) => densities.Select((density, i) => new GreyStep
    {
        XMm = RimMm + i * inner / densities.Length,
        YMm = y,
        WidthMm = inner / densities.Length,
        HeightMm = 6,
        Density = density,
    });

    private static ValueList<double> Spread(double from, double to, int count) =>
        Enumerable.Range(0, count).Select(i => count == 1 ? from : from + (to - from) * i / (count - 1)).ToValueList();
}
