using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What shows in the window of a frame sheet, as a map of the logarithm of luminance over the sheet's plane.</summary>
internal sealed class WindowMap
{
    /// <summary>Distance of the map's points, mm.</summary>
    public const double StepMm = 0.25;

    /// <summary>A window is cut by hand, and its rim throws a shadow: this much inside it is not looked at, mm.</summary>
    private const double RimMm = 1.5;

    /// <summary>Darker than this is black, linear luminance.</summary>
    private const double Black = 0.002;

    private readonly float[,] _log;
    private readonly PlanePoint _origin;

    private WindowMap(float[,] log, PlanePoint origin) => (_log, _origin) = (log, origin);

    /// <summary>Looks at the window.</summary>
    public static WindowMap Of(CardSurface sheet, Window window)
    {
        PlanePoint origin = new(window.XMm + RimMm, window.YMm + RimMm);
        float[,] log = new float[Math.Max(1, Count(window.HeightMm)), Math.Max(1, Count(window.WidthMm))];
        for (int row = 0; row < log.GetLength(0); row++)
        {
            for (int column = 0; column < log.GetLength(1); column++)
                log[row, column] = sheet.LuminanceAt(origin + new PlanePoint(column, row) * StepMm) is { } luminance
                    ? (float)Math.Log(Math.Max(luminance, Black))
                    : float.NaN;
        }

        return new(log, origin);

        static int Count(double mm) => (int)((mm - 2 * RimMm) / StepMm) + 1;
    }

    /// <summary>The map's point nearest to a point of the sheet; it may be outside the map.</summary>
    public (int Row, int Column) Nearest(PlanePoint sheetMm) =>
        ((int)Math.Round((sheetMm.Y - _origin.Y) / StepMm), (int)Math.Round((sheetMm.X - _origin.X) / StepMm));

    /// <summary>Natural log of luminance at a point of the map; NaN outside it.</summary>
    public float At(int row, int column) =>
        (uint)row < (uint)_log.GetLength(0) && (uint)column < (uint)_log.GetLength(1) ? _log[row, column] : float.NaN;
}
