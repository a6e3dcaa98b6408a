using CardScan.Model;

namespace CardScan.Scoring.Tones;

/// <summary>Cells of an engraved card that differ in one setting alone, by increasing dose.</summary>
/// <param name="Setting">What changes along the line: power or speed.</param>
/// <param name="Cells">Its usable cells, each value of the setting once.</param>
internal sealed record ToneLine(Setting Setting, ValueList<CellReading> Cells)
{
    private const int FewestCells = 3;

    /// <summary>The settings that stay, as the line's first cell has them.</summary>
    public CellSettings Held => Cells[0].Settings;

    /// <summary>The value of the changing setting in a cell.</summary>
    public double ValueOf(CellReading cell) => Setting == Setting.PowerPercent ? cell.Settings.PowerPercent : cell.Settings.SpeedMmPerMin;

    /// <summary>The lines that a request allows, with at least three usable cells.</summary>
    public static IEnumerable<ToneLine> Of(Reading reading, ToneRequest request)
    {
        Setting setting = request.AtPowerPercent is null ? Setting.PowerPercent : Setting.SpeedMmPerMin;
        return reading.Cells
            .Where(IsUsable)
            .Where(cell => IsAt(request.AtSpeedMmPerMin, cell.Settings.SpeedMmPerMin)
                && IsAt(request.AtPowerPercent, cell.Settings.PowerPercent))
            .GroupBy(cell => setting == Setting.PowerPercent
                ? cell.Settings with { PowerPercent = 0 }
                : cell.Settings with { SpeedMmPerMin = 0 })
            .Select(group => new ToneLine(setting, [.. group.OrderBy(DosePart)]))
            .Where(line => line.Cells.Select(line.ValueOf).Distinct().Count() == line.Cells.Count && line.Cells.Count >= FewestCells);

        double DosePart(CellReading cell) => setting == Setting.PowerPercent ? cell.Settings.PowerPercent : -cell.Settings.SpeedMmPerMin;
    }

    private static bool IsUsable(CellReading cell) =>
        cell.Darkness is { } darkness && double.IsFinite(darkness.Value)
        && !cell.Flags.Any(flag => CellFlag.IsDisqualifying(flag) || flag == CellFlag.Outlier);

    private static bool IsAt(double? asked, double burned) => asked is not { } value || Math.Abs(value - burned) <= 1e-6 * burned;
}
