using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Cells named as a maker knows them: by place, counted from 1, and by what they were burned with.</summary>
internal static class CellNames
{
    /// <summary>More names than this hide the message.</summary>
    private const int Most = 3;

    /// <summary>"row 2, column 4 (2000 mm/min at 80 %)"; of many the first few, "and 5 more".</summary>
    /// <param name="plan">The plan, which tells what changes over the card.</param>
    /// <param name="cells">One or more, in the card's order.</param>
    public static string List(Plan plan, IReadOnlyList<CellReading> cells)
    {
        string[] names = [.. cells.Take(Most).Select(cell => $"row {cell.Row + 1}, column {cell.Column + 1} ({cell.Settings.InWords(plan)})")];
        return cells.Count > Most ? $"{string.Join("; ", names)}; and {cells.Count - Most} more" : string.Join("; ", names);
    }
}
