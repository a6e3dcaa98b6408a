using CardScan.Model;

namespace CardScan.Scoring.Focus;

/// <summary>The mean width of a ladder cell's lines along one axis.</summary>
/// <param name="Cell">The cell's place.</param>
/// <param name="OffsetMm">Focus offset, mm.</param>
/// <param name="LnEnergy">ln of the line energy, J/mm.</param>
/// <param name="Square">Square of the width, mm².</param>
/// <param name="Error">Standard error of that square, mm².</param>
internal sealed record LadderPoint(CellAddress Cell, double OffsetMm, double LnEnergy, double Square, double Error)
{
    /// <summary>No machine draws lines that are more alike than this, relative to their width: backlash, grain, the edge of char.</summary>
    private const double LeastRelativeError = 0.01;

    /// <summary>The points of an axis.</summary>
    /// <param name="reading">A reading of a focus ladder, its cells with doses.</param>
    /// <param name="of">The width along the axis.</param>
    public static LadderPoint[] Of(Reading reading, Func<LineWidths, Measured?> of) =>
    [
        .. from cell in reading.Cells
           where cell.LineWidths is not null && !cell.Flags.Any(CellFlag.IsDisqualifying)
           let width = of(cell.LineWidths!)
           where width is { Value: > 0 } && cell.Dose is { Value: > 0 }
           let error = Math.Max(width.StandardError, LeastRelativeError * width.Value)
           select new LadderPoint(new(cell.Row, cell.Column), cell.Settings.FocusOffsetMm, Math.Log(cell.Dose!.Value),
               width.Value * width.Value, 2 * width.Value * error),
    ];
}
