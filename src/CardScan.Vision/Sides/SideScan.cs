using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The photo along one side: luminance across the cutting path, station by station.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Side">Its side.</param>
/// <param name="Profiles">Stations × offsets, linear luminance; offsets from inside the cell outward.</param>
/// <param name="SurfaceLevel">Luminance of the card beside the side, away from char.</param>
/// <param name="ShiftMm">
/// How far the far face's opening appears shifted across the side (away from the cell positive), mm; null without a
/// thickness.
/// </param>
/// <param name="AlongMm">The same along the side, towards its end positive, mm.</param>
internal sealed record SideScan(Cell Cell, CellSide Side, double[][] Profiles, double SurfaceLevel, double? ShiftMm, double AlongMm)
{
    /// <summary>Distance between stations along a side, at most, mm.</summary>
    public const double StationMm = 0.05;

    /// <summary>Distance between samples across a side, mm.</summary>
    public const double OffsetMm = 0.04;

    /// <summary>Samples on each side of the path: wide enough for any kerf of a diode, narrow enough to miss the neighbours.</summary>
    public const int HalfOffsets = 15;

    /// <summary>The largest shift, either sign, over the places where the lens may have stood, mm; zero without a thickness.</summary>
    public double MostShiftMm { get; private init; }

    /// <summary>The smallest of them, mm.</summary>
    public double LeastShiftMm { get; private init; }

    /// <summary>True for left and right, whose kerf is measured across x.</summary>
    public bool IsUpright => Side is CellSide.Left or CellSide.Right;

    /// <summary>Place of the cutting path in the direction across the kerf, mm.</summary>
    public double AcrossMm => Side switch
    {
        CellSide.Left => Cell.XMm,
        CellSide.Right => Cell.XMm + Cell.WidthMm,
        CellSide.Top => Cell.YMm,
        _ => Cell.YMm + Cell.HeightMm,
    };

    /// <summary>Length of the side, mm.</summary>
    public double LengthMm => IsUpright ? Cell.HeightMm : Cell.WidthMm;

    /// <summary>Middle of the cell, mm.</summary>
    public PlanePoint Middle => new(Cell.XMm + Cell.WidthMm / 2, Cell.YMm + Cell.HeightMm / 2);

    /// <summary>Length of one station, mm.</summary>
    public double StepMm => LengthMm / Profiles.Length;

    /// <summary>Number of stations along a side.</summary>
    public static int StationsOf(double lengthMm) => (int)Math.Ceiling(lengthMm / StationMm);

    /// <summary>Whether a station belongs to a tab, where the side was left uncut on purpose.</summary>
    public bool IsTab(int station) => SideTabs.Holds(Cell, Side, (station + 0.5) * StepMm);

    /// <summary>Scans one side.</summary>
    /// <returns>The scan, or null where the side is not wholly in the photo.</returns>
    public static SideScan? Of(CardSurface surface, Camera camera, Cell cell, CellSide side, double? thicknessMm)
    {
        (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = Frame(cell, side);
        int stations = StationsOf(length);
        double[][] profiles = new double[stations][];
        for (int s = 0; s < stations; s++)
        {
            profiles[s] = new double[2 * HalfOffsets + 1];
            PlanePoint foot = start + along * (length * (s + 0.5) / stations);
            for (int o = -HalfOffsets; o <= HalfOffsets; o++)
            {
                if (surface.LuminanceAt(foot + outward * (o * OffsetMm)) is not { } luminance) return null;
                profiles[s][o + HalfOffsets] = luminance;
            }
        }

        if (SurfaceBeside(surface, start, along, outward, length) is not { } level) return null;

        // Seen from the lens, what lies deeper appears drawn towards the point below the lens.
        PlanePoint middle = start + along * (length / 2);
        PlanePoint towardsLens = Towards(camera.PositionMm);
        double? shift = thicknessMm * Dot(towardsLens, outward);
        double[] shifts =
            [.. camera.PossiblePositionsMm.Select(position => (thicknessMm ?? 0) * Math.Abs(Dot(Towards(position), outward)))];
        return new(cell, side, profiles, level, shift, (thicknessMm ?? 0) * Dot(towardsLens, along))
        {
            LeastShiftMm = shifts.Min(),
            MostShiftMm = shifts.Max(),
        };

        PlanePoint Towards((double X, double Y, double Z) lensMm) => (new PlanePoint(lensMm.X, lensMm.Y) - middle) * (1 / lensMm.Z);
    }

    /// <summary>Start and direction of a side's path, its outward direction, and its length.</summary>
    public static (PlanePoint Start, PlanePoint Along, PlanePoint Outward, double LengthMm) Frame(Cell cell, CellSide side)
    {
        double right = cell.XMm + cell.WidthMm, bottom = cell.YMm + cell.HeightMm;
        return side switch
        {
            CellSide.Left => (new(cell.XMm, cell.YMm), new(0, 1), new(-1, 0), cell.HeightMm),
            CellSide.Right => (new(right, cell.YMm), new(0, 1), new(1, 0), cell.HeightMm),
            CellSide.Top => (new(cell.XMm, cell.YMm), new(1, 0), new(0, -1), cell.WidthMm),
            _ => (new(cell.XMm, bottom), new(1, 0), new(0, 1), cell.WidthMm),
        };
    }

    private static double? SurfaceBeside(CardSurface surface, PlanePoint start, PlanePoint along, PlanePoint outward, double length)
    {
        const int samples = 24;
        List<double> levels = [];
        for (int i = 0; i < samples; i++)
        {
            foreach (double distance in (ReadOnlySpan<double>)[1.0, 1.4, 1.8])
            {
                if (surface.LuminanceAt(start + along * (length * (i + 0.5) / samples) + outward * distance) is { } luminance)
                    levels.Add(luminance);
            }
        }

        return levels.Count < samples ? null : Robust.Median(levels);
    }

    private static double Dot(PlanePoint a, PlanePoint b) => a.X * b.X + a.Y * b.Y;
}
