using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What burning a card takes.</summary>
/// <param name="Seconds">Everything from the machine's zero back to it, pauses for the focus not counted.</param>
/// <param name="Joules">Optical energy of markers, labels and cells.</param>
/// <param name="Cells">Each cell, row by row.</param>
public sealed record BurnEstimate(double Seconds, double Joules, ValueList<CellEstimate> Cells)
{
    /// <summary>The cell to watch: of cells burned for the same time, the one with the most power.</summary>
    public CellEstimate MostEnergy => Cells.MaxBy(cell => cell.Joules)!;

    /// <summary>The time in words: 45 s, 12 min, 1 h 05 min.</summary>
    public string TimeInWords() => InWords(Seconds);

    /// <summary>Any time in the same words.</summary>
    internal static string InWords(double seconds)
    {
        int minutes = (int)Math.Round(seconds / 60);
        return seconds < 100 ? $"{seconds:0} s" : minutes < 60 ? $"{minutes} min" : $"{minutes / 60} h {minutes % 60:00} min";
    }
}

/// <summary>What one cell takes.</summary>
/// <param name="Row">Row of the grid, from 0.</param>
/// <param name="Column">Column of the grid, from 0.</param>
/// <param name="Seconds">Time, the travel to it included.</param>
/// <param name="Joules">Optical energy of all passes.</param>
public sealed record CellEstimate(int Row, int Column, double Seconds, double Joules);
