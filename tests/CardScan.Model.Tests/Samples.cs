namespace CardScan.Model.Tests;

/// <summary>A small plan and a reading with every field, to be spoilt one way at a time.</summary>
internal static class Samples
{
    internal static Plan Plan => new()
    {
        Format = Plan.CurrentFormat,
        Number = 17,
        Title = "Birke, Leistung über Vorschub",
        Process = Process.Engrave,
        Material = new() { Name = "birch plywood", ThicknessMm = 3, Batch = "B-1" },
        Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
        Card = new() { WidthMm = 80, HeightMm = 60 },
        Fiducials = new()
        {
            Dictionary = Fiducials.OnlyDictionary,
            SideMm = 10,
            Markers =
            [
                new() { Id = 68, XMm = 4, YMm = 4 },
                new() { Id = 69, XMm = 66, YMm = 4 },
                new() { Id = 70, XMm = 66, YMm = 46 },
                new() { Id = 71, XMm = 4, YMm = 46 }
            ],
        },
        Columns = new() { Setting = Setting.PowerPercent, Values = [20, 40] },
        Rows = new() { Setting = Setting.SpeedMmPerMin, Values = [1000] },
        Fixed = new() { Passes = 1, FocusOffsetMm = 0, LineIntervalMm = 0.1 },
        Cells =
        [
            new() { Row = 0, Column = 0, XMm = 20, YMm = 26, WidthMm = 8, HeightMm = 8 },
            new() { Row = 0, Column = 1, XMm = 40, YMm = 26, WidthMm = 8, HeightMm = 8 }
        ],
    };

    internal static readonly Machine ProfiledMachine = new()
    {
        Name = "bench", RatedOpticalWatts = 10, WavelengthNm = 455, WorkArea = new() { WidthMm = 400, HeightMm = 380 },
        FastestFeedMmPerMin = 6000, FullPowerS = 1000,
        BeamMode = BeamMode.FollowsSpeed, BeamXMm = 0.08, BeamYMm = 0.1, AccelerationMmPerS2 = 800,
        PoweredZ = new() { LowestMm = -5, HighestMm = 20 },
    };

    internal static readonly Material ProfiledMaterial = new()
    {
        Name = "Birkensperrholz", ThicknessMm = 3, Batch = "B-1", Notes = "gewölbt",
        Mark = new() { PowerPercent = 60, SpeedMmPerMin = 2000, LineIntervalMm = 0.1 },
    };

    /// <summary>A grid inside a frame sheet.</summary>
    internal static Plan Framed => Plan with
    {
        Frame = new()
        {
            PaperWidthMm = 210, PaperHeightMm = 297, PaperXMm = 10, PaperYMm = 10,
            Window = new() { XMm = 18, YMm = 20, WidthMm = 40, HeightMm = 18 },
            GreySteps = [new() { XMm = 20, YMm = 5, WidthMm = 6, HeightMm = 6, Density = 0.3 }],
            Rulers = [new() { FromXMm = 20, FromYMm = 50, ToXMm = 60, ToYMm = 50, StepMm = 1 }],
        },
    };

    /// <summary>A ladder with every field of machine, material and burning that an ordinary plan leaves out.</summary>
    internal static Plan Ladder => Plan with
    {
        Kind = CardKind.FocusLadder,
        Material = ProfiledMaterial,
        Machine = ProfiledMachine,
        Columns = new() { Setting = Setting.FocusOffsetMm, Values = [-1, 1] },
        Fixed = new() { PowerPercent = 50, Passes = 2 },
        Cells = Plan.Cells.Select(cell => cell with
        {
            Lines = [new() { FromXMm = cell.XMm, FromYMm = 30, ToXMm = cell.XMm + 4, ToYMm = 30 }]
        }).ToValueList(),
        Burning = new() { Seed = 5, Order = [1, 0], Marks = new() { PowerPercent = 60, SpeedMmPerMin = 2000, LineIntervalMm = 0.1 } },
        Start = new(1.5, 2, StartBasis.Published, "source") { Kind = "plywood" },
        AcceptedRisk = "words",
    };

    /// <summary>A strip of two printed greys.</summary>
    internal static Plan Strip => Plan with
    {
        Kind = CardKind.GreyStrip,
        Machine = new() { Name = "printer", RatedOpticalWatts = 0 },
        Columns = new() { Setting = Setting.PrintedDensity, Values = [0.3, 0.9] },
        Rows = new() { Setting = Setting.Passes, Values = [1] },
        Fixed = new(),
    };

    /// <summary>A cut plan with tabs.</summary>
    internal static Plan Tabbed => Plan with
    {
        Process = Process.Cut,
        Fixed = new(),
        Cells = Plan.Cells.Select(cell => cell with { Tabs = [new() { Side = CellSide.Left, AtMm = 4, LengthMm = 0.5 }] }).ToValueList(),
    };

    internal static Reading Reading => new()
    {
        Format = Reading.CurrentFormat,
        Plan = Plan,
        PlanSha256 = new string('a', 64),
        Photos =
        [
            new()
            {
                File = "a.jpg", Sha256 = new string('c', 64), Light = Light.Back, WidthPx = 4000, HeightPx = 3000, PxPerMm = 20,
                TiltDeg = 3, ReprojectionRmsPx = 0.1,
                Bow = new() { RiseXMm = new(0.8, 0.1), RiseYMm = new(-0.1, 0.1), IsCorrected = true },
                Quality = new()
                {
                    Mtf50AcrossXPerMm = 2.5, Mtf50AcrossYPerMm = 2.4, BareLuminance = 0.5, ClippedShare = 0.01,
                    Noise = 0.02, LightRange = 1.5,
                    GlareShare = 0.02, ShadowShare = 0.03, LocalTone = new(0.01, 0.005), DarknessScaleError = 0.15,
                },
                Camera = new() { Make = "Generic", Model = "Phone", Lens = "wide", Software = "1.0" },
                Exposure = new(0.014, 1.8, 100),
                Response = new(PhotoResponse.Series, [-0.3, 0.15, 0.17, -0.05, 0.04])
                {
                    Covariance = [0.002, 0, 0.001, 0, 0, 0.0005, 0, 0, 0, 0.0002, 0, 0, 0, 0, 0.0001], SeriesCount = 2,
                    CardNumber = 5, Scale = new(new string('d', 64), 0.02, 0.06, IsKnown: true),
                },
                Warnings = [new("w", "m")],
            },
        ],
        Cells =
        [
            new()
            {
                Row = 0, Column = 0, CenterPx = new(1.5, 2.5), Settings = Plan.SettingsOf(Plan.Cells[0]),
                Dose = new(1.2, Dose.JoulesPerMm2),
                Darkness = new(0.4, 0.01), Lightness = new(50, 1), Contrast = new(-0.6, 0.01), DeltaE2000 = new(20, 0.5),
                Evenness = new(0.97, 0.01), HaloMm = new(0.3, 0.05),
                LineWidths = new() { AcrossXMm = new(0.2, 0.01), AcrossYMm = new(0.15, 0.01) },
                Sides = new(Side(SideState.Open), Side(SideState.Partial), Side(SideState.Closed), Side(SideState.Unseen)),
                Through = Opening.Partial, Flags = [CellFlag.Glare],
            },
        ],
        Kerf = new() { AcrossXMm = new(0.2, 0.01), AcrossYMm = new(0.1, 0.01) },
        Focus = new()
        {
            OffsetMm = 0.2,
            AcrossX = new()
            {
                Cells = 9,
                BestOffset = new("focusOffsetMm", 0.3, 0.2, 0.4),
                Beam = new("beamMm", 0.1, 0.09, 0.12),
                RayleighMm = 1.2,
                Curves = [new(0.15, [new(-1, 0.3, 0.2, 0.4)])]
            },
            AcrossY = new() { Cells = 8, BestOffset = new("focusOffsetMm", 0.1, 0.0, 0.2) },
        },
        Recommendations =
        [
            new()
            {
                Goal = Goal.Darkest,
                PowerPercent = 40,
                SpeedMmPerMin = 1000,
                Cell = new(0, 1),
                Reason = "r",
                Confidence = 0.9,
                Interval = new("markStrength", 0.8, 0.7, 0.9),
                Unburned = new() { PowerPercent = 38, SpeedMmPerMin = 1100, Confidence = 0.8, Reason = "u" }
            },
            OnEarlierCard,
        ],
        Advice = [new("code", "message") { Goal = Goal.FastestFullMark }],
        Boundary = [new(Goal.FastestFullMark, 1000, 33, 30, 36)],
        Tones = new()
        {
            Setting = Setting.PowerPercent, StepsAsked = 2, Steps = [new(20, 1000, 90, 88, 92), new(40, 1000, 40, 38, 42)],
            Curve = new("power, %", [new(0, 0, 20)], [new(20, 90, 88, 92), new(40, 40, 38, 42)]),
        },
        Model = new()
        {
            Name = "m",
            Parameters = new([new("a", new Measured(1, 0.1))]),
            Diagnostics = new([new("rms", 0.01)]),
            Curve = new("dose, J/mm²", [new(0, 0, 1.2)], [new(1, 0.5, 0.4, 0.6)]),
        },
        Joined = [new()
        {
            Number = 16,
            PlanSha256 = new string('d', 64),
            CellsUsed = 25,
            Taken = new(2026, 11, 2, 9, 30, 0),
            FirstReadUtc = new(2026, 11, 2, 10, 0, 0, DateTimeKind.Utc),
            DoseFactor = new(1.02, 0.03),
            MarkFactor = new(0.98, 0.02)
        }],
    };

    /// <summary>A setting of a larger, earlier card.</summary>
    internal static Recommendation OnEarlierCard => new()
    {
        Goal = Goal.FastestFullMark, PowerPercent = 55, SpeedMmPerMin = 1500, Cell = new(3, 4), Card = 16, Reason = "e",
        EarlierCell = new()
        {
            Row = 3,
            Column = 4,
            Settings = new() { PowerPercent = 55, SpeedMmPerMin = 1500, Passes = 2, LineIntervalMm = 0.1 },
            Darkness = new(0.5, 0.01)
        },
    };

    private static SideReading Side(SideState state) =>
        new() { State = state, OpenFraction = 0.5, SeenFraction = 0.9, KerfMm = 0.2, LongestBridgeMm = 1, LongestBridgeAtMm = 4 };
}
