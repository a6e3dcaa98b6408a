using CardScan.Model;

namespace CardScan.Scoring;

/// <summary>What a setting costs in time: what a maker pays with.</summary>
internal static class UnitBurnTime
{
    /// <summary>Seconds for a millimetre of path, all passes.</summary>
    public static double SecondsPerMm(CellSettings settings) => 60.0 * settings.Passes / settings.SpeedMmPerMin;

    /// <summary>Seconds for a square millimetre of a fill; of a millimetre of path where no line interval is given.</summary>
    public static double SecondsPerMm2(CellSettings settings) => SecondsPerMm(settings) / (settings.LineIntervalMm ?? 1);
}
