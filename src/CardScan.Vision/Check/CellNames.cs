using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Cells named as a maker knows them: by place, counted from 1, and by what they were burned with.</summary>
internal static class CellNames
{
    /// <summary>More names than this hide the message.</summary>
    private const int Most = 3;

    /// <summary>"row 2, column 4 (2000 mm/min at 80 %)"; of many the first few, "and 5 more"; for a message.</summary>
    /// <param name="plan">The plan, which tells what changes over the card.</param>
    /// <param name="cells">One or more, in the card's order.</param>
    public static Figure Of(Plan plan, IReadOnlyList<CellReading> cells)
    {
        Listing named = List(cells.Take(Most).Select(cell => (Figure)new Phrase("name.cell",
            ("row", cell.Row + 1), ("column", cell.Column + 1), ("setting", cell.Settings.ToFigure(plan)))));
        return cells.Count > Most ? new Phrase("name.and-more", ("named", named), ("more", cells.Count - Most)) : named;
    }
}
