using CardScan.Model;

namespace CardScan.Scoring.Next;

/// <summary>The powers and speeds that were burned.</summary>
/// <param name="LeastPower">Lowest power, percent.</param>
/// <param name="MostPower">Highest power, percent.</param>
/// <param name="Slowest">Lowest speed, mm/min.</param>
/// <param name="Fastest">Highest speed, mm/min.</param>
/// <param name="Weakest">The cell with the least power over speed, passes counted.</param>
/// <param name="Strongest">The cell with the most.</param>
internal sealed record BurnedRange(
    double LeastPower, double MostPower, double Slowest, double Fastest, CellReading Weakest, CellReading Strongest)
{
    /// <summary>Null where no cell has a power and a speed.</summary>
    public static BurnedRange? Of(IEnumerable<CellReading> all)
    {
        CellReading[] cells = [.. all.Where(cell => cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0, Passes: > 0 })];
        return cells.Length == 0 ? null : new(
            cells.Min(cell => cell.Settings.PowerPercent), cells.Max(cell => cell.Settings.PowerPercent),
            cells.Min(cell => cell.Settings.SpeedMmPerMin), cells.Max(cell => cell.Settings.SpeedMmPerMin),
            cells.MinBy(Energy)!, cells.MaxBy(Energy)!);

        static double Energy(CellReading cell) => cell.Settings.PowerPercent * cell.Settings.Passes / cell.Settings.SpeedMmPerMin;
    }
}
