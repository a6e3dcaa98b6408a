using CardScan.Model;

namespace CardScan.Reporting.Tests;

/// <summary>Readings and pictures by construction: an invented material law, so that every number is known.</summary>
internal static class Samples
{
    /// <summary>A plan whose cells stand in an even grid between four markers.</summary>
    public static Plan Plan(
        int rows = 5, int columns = 6, Process process = Process.Engrave, double cellMm = 8, double gapMm = 6,
        string title = "Ash, power by speed")
    {
        const double SideMm = 10, EdgeMm = 4;
        double pitch = cellMm + gapMm;
        double left = EdgeMm + SideMm + 6;
        double width = 2 * left + columns * pitch - gapMm;
        double height = 2 * left + rows * pitch - gapMm;
        double far = EdgeMm + SideMm;
        return new()
        {
            Format = Model.Plan.CurrentFormat,
            Number = 7,
            Title = title,
            Process = process,
            Material = new() { Name = "ash board", ThicknessMm = 3, Batch = "B-0001" },
            Machine = new() { Name = "lower bench", RatedOpticalWatts = 10 },
            Card = new() { WidthMm = width, HeightMm = height },
            Fiducials = new()
            {
                Dictionary = Fiducials.OnlyDictionary,
                SideMm = SideMm,
                Markers =
                [
                    new() { Id = 28, XMm = EdgeMm, YMm = EdgeMm },
                    new() { Id = 29, XMm = width - far, YMm = EdgeMm },
                    new() { Id = 30, XMm = width - far, YMm = height - far },
                    new() { Id = 31, XMm = EdgeMm, YMm = height - far },
                ],
            },
            Columns = new() { Setting = Setting.PowerPercent, Values = Steps(columns, share => Math.Round(20 + 80 * share, 1)) },
            Rows = new() { Setting = Setting.SpeedMmPerMin, Values = Steps(rows, share => Math.Round(80 * Math.Pow(5, share)) * 10) },
            Fixed = new() { Passes = 1, FocusOffsetMm = 0, LineIntervalMm = process == Process.Engrave ? 0.1 : null },
            Cells = Enumerable.Range(0, rows * columns).Select(i => new Cell
            {
                Row = i / columns,
                Column = i % columns,
                XMm = left + i % columns * pitch,
                YMm = left + i / columns * pitch,
                WidthMm = cellMm,
                HeightMm = cellMm,
            }).ToValueList(),
        };

        static ValueList<double> Steps(int count, Func<double, double> value) =>
            Enumerable.Range(0, count).Select(i => value((double)i / Math.Max(1, count - 1))).ToValueList();
    }

    /// <summary>An engraved card: strength rises with the dose and levels off; one cell lies in glare, one is an outlier.</summary>
    public static Reading Engraved(Plan? plan = null, double sign = 1)
    {
        plan ??= Plan();
        ValueList<CellReading> cells = plan.Cells.Select((cell, i) => EngravedCell(plan, cell, i, sign)).ToValueList();
        CellReading best = cells[Math.Min(plan.Columns.Values.Count, cells.Count) - 1];
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            PlanSha256 = new string('a', 64),
            Photos = [Photo("ash.jpg", Light.Front)],
            Cells = cells,
            Recommendations =
            [
                new()
                {
                    Goal = Goal.FastestFullMark, PowerPercent = best.Settings.PowerPercent, SpeedMmPerMin = best.Settings.SpeedMmPerMin,
                    Cell = new(best.Row, best.Column), Reason = "The fastest speed that still gives a full mark.", Confidence = 0.93,
                    Interval = new("markStrength", 0.842, 0.819, 0.866),
                },
            ],
            Advice = [new("no-need-to-go-slower", "Slower than this the mark gains nothing.")],
            Boundary = plan.Rows.Values
                .Select(speed => new BoundaryPoint(Goal.FastestFullMark, speed, speed / 20, speed / 21, speed / 19)).ToValueList(),
            Model = new()
            {
                Name = "saturating-exponential",
                Parameters = new([new("plateau", new(0.86, 0.006)), new("doseScale", new(0.0346, 0.0011))]),
                Diagnostics = new([new("residualRms", 0.0123)]),
                Curve = new(
                    "dose, J/mm²",
                    cells.Where(cell => cell.Darkness is not null)
                        .Select(cell => new CurveCell(cell.Row, cell.Column, cell.Dose!.Value)).ToValueList(),
                    Enumerable.Range(0, 40).Select(i => CurveAt(0.3 * Math.Pow(1.1, i))).ToValueList()),
            },
        };
    }

    /// <summary>A card that gets lighter when burned.</summary>
    public static Reading Lighter() => Engraved(sign: -1);

    /// <summary>A card whose plateau lies beyond the grid: advice instead of a recommendation.</summary>
    public static Reading AdviceOnly() => Engraved() with
    {
        Recommendations = [],
        Boundary = null,
        Advice =
        [
            new("not-levelled-off", "The mark still grows at the highest energy: burn a next card from 300 to 800 mm/min.")
            {
                Goal = Goal.FastestFullMark,
            },
        ],
    };

    /// <summary>A cut card: through at the top right, held at the bottom left, some sides unseen.</summary>
    public static Reading Cut(Plan? plan = null)
    {
        plan ??= Plan(4, 5, Process.Cut);
        ValueList<CellReading> cells = plan.Cells.Select(cell => CutCell(plan, cell)).ToValueList();
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Photos = [Photo("lamp-left.jpg", Light.Back), Photo("lamp-right.jpg", Light.Back)],
            Cells = cells,
            Recommendations =
            [
                new()
                {
                    Goal = Goal.SureCut, PowerPercent = 77, SpeedMmPerMin = plan.Rows.Values[0], Cell = new(0, 3),
                    Reason = "All four sides are through.", Confidence = 0.968, Interval = new("probability", 0.983, 0.952, 0.994),
                },
            ],
        };
    }

    /// <summary>Nothing was measured, nothing is recommended.</summary>
    public static Reading Unmeasured() => new()
    {
        Format = Reading.CurrentFormat,
        Plan = Plan(2, 2),
        Cells = Plan(2, 2).Cells
            .Select(cell => new CellReading { Row = cell.Row, Column = cell.Column, Settings = Plan(2, 2).SettingsOf(cell) }).ToValueList(),
        Photos = [new() { File = "dim.jpg", Sha256 = "", Light = Light.Front, WidthPx = 100, HeightPx = 80 }],
    };

    /// <summary>The card as a flat picture: ground, markers and cells, each of one colour.</summary>
    public static CardPicture Picture(Plan plan, double pxPerMm = 10, double marginMm = 3)
    {
        int width = (int)Math.Round((plan.Card.WidthMm + 2 * marginMm) * pxPerMm);
        int height = (int)Math.Round((plan.Card.HeightMm + 2 * marginMm) * pxPerMm);
        byte[] rgba = new byte[4 * width * height];
        Fill(0, 0, width, height, Table);
        FillMm(0, 0, plan.Card.WidthMm, plan.Card.HeightMm, Ground);
        foreach (Marker marker in plan.Fiducials.Markers)
            FillMm(marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm, Burned);
        foreach (Cell cell in plan.Cells) FillMm(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm, Burned);
        return new(width, height, pxPerMm, marginMm, rgba);

        void FillMm(double x, double y, double w, double h, (byte R, byte G, byte B) colour) => Fill(
            (int)Math.Round((x + marginMm) * pxPerMm), (int)Math.Round((y + marginMm) * pxPerMm),
            (int)Math.Round(w * pxPerMm), (int)Math.Round(h * pxPerMm), colour);

        void Fill(int x, int y, int w, int h, (byte R, byte G, byte B) colour)
        {
            for (int row = y; row < y + h; row++)
            {
                for (int column = x; column < x + w; column++)
                {
                    int at = 4 * (row * width + column);
                    (rgba[at], rgba[at + 1], rgba[at + 2], rgba[at + 3]) = (colour.R, colour.G, colour.B, 255);
                }
            }
        }
    }

    public static readonly (byte R, byte G, byte B) Table = (96, 110, 120);
    public static readonly (byte R, byte G, byte B) Ground = (214, 184, 142);
    public static readonly (byte R, byte G, byte B) Burned = (92, 62, 44);

    private static PhotoRecord Photo(string file, Light light) => new()
    {
        File = file,
        Sha256 = new string('b', 64),
        Light = light,
        WidthPx = 4032,
        HeightPx = 3024,
        PxPerMm = 17.3,
        TiltDeg = 6.2,
        ReprojectionRmsPx = 0.21,
        Warnings = light == Light.Front ? [new("slanted", "The photo was taken at a slant: hold the phone flatter next time.")] : [],
    };

    private static CellReading EngravedCell(Plan plan, Cell cell, int index, double sign)
    {
        CellSettings settings = plan.SettingsOf(cell);
        Dose dose = settings.DoseOf(Process.Engrave, plan.Machine.RatedOpticalWatts)!;
        CellReading bare = new()
        {
            Row = cell.Row, Column = cell.Column, Settings = settings, Dose = dose, CenterPx = new(100.25 + index, 200.5),
        };
        if (index == 3) return bare with { Flags = [CellFlag.Glare] };
        double darkness = sign * 0.85 * (1 - Math.Exp(-dose.Value / 1.5));
        return bare with
        {
            Darkness = Measured.Of(darkness, 0.0061),
            Lightness = Measured.Of(70 - 40 * darkness, 0.41),
            Contrast = Measured.Of(1 - Math.Pow(10, -darkness), 0.0052),
            DeltaE2000 = Measured.Of(30 * Math.Abs(darkness), 0.5),
            Evenness = Measured.Of(0.95, 0.012),
            HaloMm = index % 2 == 0 ? Measured.Of(0.2, 0.08) : null,
            Flags = index == 8 ? [CellFlag.Outlier, CellFlag.UnevenGround] : [],
        };
    }

    private static CurvePoint CurveAt(double dose)
    {
        double y = 1 - Math.Pow(10, -0.85 * (1 - Math.Exp(-dose / 1.5)));
        return new(dose, y, y - 0.02, y + 0.02);
    }

    private static CellReading CutCell(Plan plan, Cell cell)
    {
        CellSettings settings = plan.SettingsOf(cell);
        // One more column cuts as much as one row slower; the top and bottom sides need half a step more.
        double margin = cell.Column - cell.Row - 1.0;
        bool isHidden = cell.Column == plan.Columns.Values.Count - 1 && cell.Row > 1;
        Sides sides = new(Side(margin, isHidden), Side(margin, false), Side(margin - 0.5, false), Side(margin - 0.5, false));
        SideState[] states = [sides.Left.State, sides.Right.State, sides.Top.State, sides.Bottom.State];
        return new()
        {
            Row = cell.Row,
            Column = cell.Column,
            Settings = settings,
            Dose = settings.DoseOf(Process.Cut, plan.Machine.RatedOpticalWatts),
            Sides = sides,
            Through = states.All(state => state == SideState.Open) ? Opening.Through
                : states.All(state => state == SideState.Closed) ? Opening.Closed : Opening.Partial,
        };
    }

    private static SideReading Side(double margin, bool isHidden) => isHidden
        ? new() { State = SideState.Unseen, SeenFraction = 0.1 }
        : margin switch
        {
            >= 0.5 => new()
            {
                State = SideState.Open, OpenFraction = 1, SeenFraction = 1, KerfMm = 0.2 + 0.02 * margin, LongestBridgeMm = 0,
            },
            >= -0.5 => new()
            {
                State = SideState.Partial, OpenFraction = 0.6, SeenFraction = 0.8, KerfMm = 0.15, LongestBridgeMm = 2.4,
                LongestBridgeAtMm = 5,
            },
            _ => new() { State = SideState.Closed, OpenFraction = 0, SeenFraction = 1 },
        };
}
