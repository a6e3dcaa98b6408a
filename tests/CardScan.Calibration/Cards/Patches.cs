namespace CardScan.Calibration;

/// <summary>Cells of a card that lie in held patches.</summary>
internal static class Patches
{
    private static readonly int[] Sides = [2, 3];

    /// <summary>Patches of both sizes anywhere over the card and past its edges, so that every cell is as likely to lie in one.</summary>
    /// <param name="grid">The card.</param>
    /// <param name="share">Probability that a cell lies in a patch.</param>
    /// <param name="chance">The card's chance.</param>
    public static HashSet<(int Row, int Column)> Draw(Grid grid, double share, Chance chance)
    {
        HashSet<(int, int)> held = [];
        if (share == 0) return held;

        // A cell is free where none of the places from which a patch would reach it holds one.
        double perPlace = 1 - Math.Pow(1 - share, 1.0 / Sides.Sum(side => side * side));
        foreach (int side in Sides)
        {
            for (int top = 1 - side; top < grid.SpeedsMmPerMin.Length; top++)
            {
                for (int left = 1 - side; left < grid.PowersPercent.Length; left++)
                {
                    if (chance.Uniform() < perPlace) held.UnionWith(Cells(top, left, side));
                }
            }
        }

        return held;
    }

    private static IEnumerable<(int, int)> Cells(int top, int left, int side) =>
        from row in Enumerable.Range(top, side) from column in Enumerable.Range(left, side) select (row, column);
}
