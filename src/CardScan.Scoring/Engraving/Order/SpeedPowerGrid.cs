using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>
/// The used cells of a card as a grid: rows from the fastest to the slowest speed, columns from the least to the most power.
/// </summary>
/// <param name="Rows">Number of speeds.</param>
/// <param name="Columns">Number of powers.</param>
/// <param name="Places">Where each used cell stands, in their order.</param>
internal sealed record SpeedPowerGrid(int Rows, int Columns, ValueList<(int Row, int Column)> Places)
{
    /// <summary>Null where the cells form no such grid: one axis alone, two cells in one place, or more places empty than filled.</summary>
    public static SpeedPowerGrid? Of(EngravedCard card)
    {
        List<double> powers = [.. card.Marked.Select(cell => cell.Cell.Settings.PowerPercent).Distinct().Order()];
        List<double> speeds = [.. card.Marked.Select(cell => cell.Cell.Settings.SpeedMmPerMin).Distinct().OrderDescending()];
        ValueList<(int, int)> places = card.Marked
            .Select(cell => (speeds.IndexOf(cell.Cell.Settings.SpeedMmPerMin), powers.IndexOf(cell.Cell.Settings.PowerPercent)))
            .ToValueList();
        bool isGrid = powers.Count > 1 && speeds.Count > 1
            && places.Count > powers.Count * speeds.Count / 2
            && places.Distinct().Count() == places.Count;
        return isGrid ? new(speeds.Count, powers.Count, places) : null;
    }

    /// <summary>
    /// Chance between neighbouring cells: from how much the step from one cell to the next differs between neighbouring
    /// lines, by the median, so that a covered block does not count and the slope of the marks cancels out. What is left of
    /// their bend makes it too large rather than too small. Null with fewer than four squares of cells.
    /// </summary>
    /// <param name="strengths">One strength a used cell.</param>
    public double? ChanceBetweenNeighbours(double[] strengths)
    {
        double?[,] values = new double?[Rows, Columns];
        for (int i = 0; i < strengths.Length; i++) values[Places[i].Row, Places[i].Column] = strengths[i];
        List<double> sizes = [];
        for (int r = 0; r + 1 < Rows; r++)
        {
            for (int c = 0; c + 1 < Columns; c++)
            {
                // Four independent chances: twice the deviation of one.
                if (values[r, c] - values[r, c + 1] - values[r + 1, c] + values[r + 1, c + 1] is { } twist) sizes.Add(Math.Abs(twist) / 2);
            }
        }

        if (sizes.Count < 4) return null;
        sizes.Sort();
        return 1.4826 * sizes[sizes.Count / 2];   // deviation over median size, normal chance
    }
}
