using CardScan.Model;

namespace CardScan.Scoring.Tests.Focus;

/// <summary>A Gaussian beam along one axis and a material that is marked above a threshold.</summary>
/// <param name="BestMm">Offset of the focus, mm.</param>
/// <param name="WaistMm">Radius at 1/e² in the focus, mm.</param>
/// <param name="RayleighMm">Rayleigh length, mm.</param>
/// <param name="ThresholdJPerMm2">Least peak fluence that marks, J/mm².</param>
internal sealed record TrueBeam(double BestMm, double WaistMm, double RayleighMm, double ThresholdJPerMm2)
{
    /// <summary>Width of a line, mm; 0 where nothing is marked. W² = 2w² ln(F/F_th), F = √(2/π) E/w for a scanned line.</summary>
    public double WidthMm(double offsetMm, double joulesPerMm)
    {
        double w = WaistMm * Math.Sqrt(1 + Math.Pow((offsetMm - BestMm) / RayleighMm, 2));
        double over = Math.Log(Math.Sqrt(2 / Math.PI) * joulesPerMm / (w * ThresholdJPerMm2));
        return over > 0 ? Math.Sqrt(2 * w * w * over) : 0;
    }
}

/// <summary>Readings of focus ladders with known beams: power from row to row, offset from column to column.</summary>
internal sealed record SimulatedLadder
{
    public TrueBeam AcrossX { get; init; } = new(0.3, 0.06, 1.2, 0.35);

    public TrueBeam AcrossY { get; init; } = new(0.3, 0.10, 2.0, 0.35);

    public double[] OffsetsMm { get; init; } = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2];

    public double[] Powers { get; init; } = [30, 50, 80];

    /// <summary>Standard deviation of a cell's width, relative.</summary>
    public double Noise { get; init; } = 0.03;

    /// <summary>Standard error that the reading states, over the true one.</summary>
    public double StatedOverTrue { get; init; } = 1;

    public Reading Measured(int seed)
    {
        Random random = new(seed);
        Plan plan = new()
        {
            Format = Plan.CurrentFormat,
            Number = 1,
            Process = Process.Engrave,
            Kind = CardKind.FocusLadder,
            Material = new() { Name = "simulated" },
            Machine = new() { Name = "simulated", RatedOpticalWatts = 10 },
            Card = new() { WidthMm = 200, HeightMm = 100 },
            Fiducials = new() { Dictionary = Fiducials.OnlyDictionary, SideMm = 10, Markers = [] },
            Columns = new() { Setting = Setting.FocusOffsetMm, Values = [.. OffsetsMm] },
            Rows = new() { Setting = Setting.PowerPercent, Values = [.. Powers] },
            Fixed = new() { SpeedMmPerMin = 2000 },
            Cells = [],
        };
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells =
            [
                .. from row in Enumerable.Range(0, Powers.Length)
                   from column in Enumerable.Range(0, OffsetsMm.Length)
                   let settings = new CellSettings { PowerPercent = Powers[row], SpeedMmPerMin = 2000, FocusOffsetMm = OffsetsMm[column] }
                   select new CellReading
                   {
                       Row = row,
                       Column = column,
                       Settings = settings,
                       LineWidths = new() { AcrossXMm = Width(AcrossX, settings), AcrossYMm = Width(AcrossY, settings) },
                   },
            ],
        };

        Measured? Width(TrueBeam beam, CellSettings settings)
        {
            double trueMm = beam.WidthMm(settings.FocusOffsetMm, settings.DoseOf(Process.Cut, 10)!.Value), error = Noise * trueMm;
            return trueMm == 0 ? null : new(trueMm + error * Gaussian(), error * StatedOverTrue);
        }

        double Gaussian() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }
}
