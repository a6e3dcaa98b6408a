using CsCheck;

namespace CardScan.Model.Tests;

/// <summary>Random plans that obey the rules, and random readings of them.</summary>
internal static class Generators
{
    private static readonly Gen<string> Words = Gen.String[Gen.Char["abcxyzä\"\\<&\n\t ₂漢"], 1, 12];

    private static readonly Gen<double> Share = Gen.Double[0, 1];

    private static readonly Gen<Measured> Measured =
        Gen.Select(Gen.Double[-1e3, 1e3], Gen.Double[0, 10], (value, error) => new Measured(value, error));

    internal static readonly Gen<Plan> Plan =
        from number in Gen.Int[0, 249]
        from title in Words
        from material in Words
        from batch in Words.Null()
        from thickness in Gen.Double[0.1, 50].Nullable()
        from watts in Gen.Double[0.1, 200]
        from process in Gen.Enum<Process>()
        from columns in Gen.Int[1, 6]
        from rows in Gen.Int[1, 6]
        from power in Gen.Double[0.5, 10]
        from speed in Gen.Double[1, 5000]
        from side in Gen.Double[10, 15]
        from interval in Gen.Double[0.01, 1]
        from passes in Gen.Int[1, 5].Nullable()
        from skipped in Gen.Int[0, columns * rows - 1]
        select new Plan
        {
            Format = Model.Plan.CurrentFormat,
            Number = number,
            Title = title,
            Process = process,
            Material = new() { Name = material, Batch = batch, ThicknessMm = thickness },
            Machine = new() { Name = title, RatedOpticalWatts = watts },
            Card = new() { WidthMm = 150, HeightMm = 150 },
            Fiducials = new()
            {
                Dictionary = Fiducials.OnlyDictionary,
                SideMm = side,
                Markers =
                [
                    Marker(4 * number, 4, 4),
                    Marker(4 * number + 1, 150 - 4 - side, 4),
                    Marker(4 * number + 2, 150 - 4 - side, 150 - 4 - side),
                    Marker(4 * number + 3, 4, 150 - 4 - side)
                ],
            },
            Columns = new() { Setting = Setting.PowerPercent, Values = Enumerable.Range(1, columns).Select(i => i * power).ToValueList() },
            Rows = new() { Setting = Setting.SpeedMmPerMin, Values = Enumerable.Range(1, rows).Select(i => i * speed).ToValueList() },
            Fixed = new() { Passes = passes, LineIntervalMm = interval },
            // A plan may leave places of its grid empty.
            Cells = Enumerable.Range(0, columns * rows).Where(i => i != skipped || columns * rows == 1)
                .Select(i => new Cell
                {
                    Row = i / columns,
                    Column = i % columns,
                    XMm = 20 + 15 * (i % columns),
                    YMm = 20 + 15 * (i / columns),
                    WidthMm = 8,
                    HeightMm = 7
                }).ToValueList(),
        };

    internal static readonly Gen<Reading> Reading =
        from plan in Plan
        from file in Words
        from light in Gen.Enum<Light>()
        from warnings in Gen.Select(Words, Words, (code, message) => new Warning(code, message)).Array[0, 3]
        from cells in Cell(plan).Array[plan.Cells.Count]
        from recommendation in Gen.Select(Words, Share, (reason, share) => new Recommendation
        {
            Goal = Goal.Darkest,
            PowerPercent = share,
            SpeedMmPerMin = 1,
            Reason = reason,
            Confidence = share
        }).Array[0, 2]
        from parameters in Gen.Select(Words, Measured, (name, value) => KeyValuePair.Create(name, value)).Array[0, 3]
        from hasModel in Gen.Bool
        select new Reading
        {
            Format = Model.Reading.CurrentFormat,
            Plan = plan,
            PlanSha256 = hasModel ? CardJson.Sha256("plan"u8) : null,
            Photos = [new()
            {
                File = file,
                Sha256 = CardJson.Sha256("photo"u8),
                Light = light,
                WidthPx = 40,
                HeightPx = 30,
                Warnings = warnings.ToValueList()
            }],
            Cells = cells.Zip(plan.Cells, (reading, cell) => reading with
            {
                Row = cell.Row,
                Column = cell.Column,
                Settings = plan.SettingsOf(cell)
            }).ToValueList(),
            Recommendations = recommendation.ToValueList(),
            Model = hasModel ? new() { Name = file, Parameters = new(parameters) } : null,
        };

    private static Gen<CellReading> Cell(Plan plan) =>
        from darkness in Measured.Null()
        from halo in Measured.Null()
        from center in Gen.Select(Gen.Double[0, 4000], Gen.Double[0, 4000], (x, y) => new PixelPoint(x, y)).Null()
        from state in Gen.Enum<SideState>()
        from through in Gen.Enum<Opening>().Nullable()
        from share in Share.Nullable()
        from flags in Gen.Bool.Select(isGlare => isGlare ? CellFlag.Glare : CellFlag.Outlier).Array[0, 2]
        let side = new SideReading { State = state, OpenFraction = share }
        select new CellReading
        {
            Row = 0,
            Column = 0,
            Settings = plan.SettingsOf(plan.Cells[0]),
            CenterPx = center,
            Darkness = darkness,
            HaloMm = halo,
            Sides = through is null ? null : new(side, side, side, side),
            Through = through,
            Flags = flags.ToValueList(),
        };

    private static Marker Marker(int id, double x, double y) => new() { Id = id, XMm = x, YMm = y };
}
