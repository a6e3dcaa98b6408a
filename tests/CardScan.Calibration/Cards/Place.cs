namespace CardScan.Calibration;

/// <summary>Where a cell lies on its card.</summary>
/// <param name="Row">Row, from 0 at the top.</param>
/// <param name="Column">Column, from 0 at the left.</param>
/// <param name="X">0 in the first column to 1 in the last.</param>
/// <param name="Y">0 in the first row to 1 in the last.</param>
internal readonly record struct Place(int Row, int Column, double X, double Y)
{
    /// <summary>More places along an axis change an average over the card by less than chance does.</summary>
    private const int MostAlongAxis = 6;

    public static Place Of(Grid grid, int row, int column) =>
        new(row, column, Share(column, grid.PowersPercent.Length), Share(row, grid.SpeedsMmPerMin.Length));

    /// <summary>Places spread evenly over a card, its corners included.</summary>
    public static Place[] Over(Grid grid) =>
    [
        .. from row in Spread(grid.SpeedsMmPerMin.Length)
           from column in Spread(grid.PowersPercent.Length)
           select Of(grid, row, column),
    ];

    private static double Share(int index, int count) => count > 1 ? index / (count - 1.0) : 0.5;

    private static IEnumerable<int> Spread(int count) => count <= MostAlongAxis
        ? Enumerable.Range(0, count)
        : Enumerable.Range(0, MostAlongAxis).Select(i => (int)Math.Round(i * (count - 1.0) / (MostAlongAxis - 1)));
}
