using CardScan.Language;

namespace CardScan.Model;

/// <summary>What burning a card takes.</summary>
/// <param name="Seconds">Everything from the machine's zero back to it, rests and stops for a hand at the focus included.</param>
/// <param name="Joules">Optical energy of markers, labels and cells.</param>
/// <param name="Cells">Each cell, row by row.</param>
public sealed record BurnEstimate(double Seconds, double Joules, ValueList<CellEstimate> Cells)
{
    /// <summary>How often the job waits for a hand that turns the focus.</summary>
    public int HandStops { get; init; }

    /// <summary>Pauses and stops, s.</summary>
    public double WaitingSeconds { get; init; }

    /// <summary>The cell to watch: of cells burned for the same time, the one with the most power.</summary>
    public CellEstimate MostEnergy => Cells.MaxBy(cell => cell.Joules)!;

    /// <summary>An estimate longer than this is told in whole minutes: it is no finer, s.</summary>
    private const double CoarseSeconds = 100;

    /// <summary>Longer than anybody likes to stay beside a laser for a test card, s (common practice, no source).</summary>
    private const double LongSeconds = 30 * 60;

    /// <summary>Whether a smaller card is worth a thought.</summary>
    public bool IsLong => Seconds > LongSeconds;

    /// <summary>The time for a message.</summary>
    public Number Time => TimeOf(Seconds);

    /// <summary>Any estimated time for a message.</summary>
    public static Number TimeOf(double seconds) =>
        Figures.Seconds(seconds < CoarseSeconds ? Math.Round(seconds) : 60 * Math.Round(seconds / 60));
}

/// <summary>What one cell takes.</summary>
/// <param name="Row">Row of the grid, from 0.</param>
/// <param name="Column">Column of the grid, from 0.</param>
/// <param name="Seconds">Time, the travel to it included.</param>
/// <param name="Joules">Optical energy of all passes.</param>
public sealed record CellEstimate(int Row, int Column, double Seconds, double Joules);
