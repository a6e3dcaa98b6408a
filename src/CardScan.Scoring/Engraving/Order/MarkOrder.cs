using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving;

/// <summary>The levels that are closest to some strengths of the card's used cells and keep an order.</summary>
/// <param name="strengths">One strength a used cell.</param>
/// <param name="tolerance">How far from the closest levels is near enough, in mark strength.</param>
internal delegate double[] OrderedLevels(double[] strengths, double tolerance);

/// <summary>Orders that marks are held to where no law is known.</summary>
internal static class MarkOrder
{
    /// <summary>
    /// The mark does not weaken with more power or less speed. Where the cells form a grid of speed and power the order is
    /// that of the grid; else that of the energy.
    /// </summary>
    public static OrderedLevels Rising(EngravedCard card) =>
        SpeedPowerGrid.Of(card) is { } grid ? OnGrid(card, grid) : AlongEnergy(card, RisingAlong);

    /// <summary>The mark rises with energy to some dose and weakens from there on.</summary>
    public static OrderedLevels RisingThenFalling(EngravedCard card) =>
        AlongEnergy(card, (values, weights) => IsotonicFit.RisingThenFalling(values, weights).Fit);

    private static double[] RisingAlong(double[] values, double[] weights) => IsotonicFit.Rising(values, weights);

    private static OrderedLevels AlongEnergy(EngravedCard card, Func<double[], double[], double[]> fit)
    {
        int[] order = [.. Enumerable.Range(0, card.Marked.Count).OrderBy(i => card.Marked[i].Cell.LnDose)];
        double[] weights = [.. order.Select(i => Weight(card.Marked[i]))];
        return (strengths, _) =>
        {
            double[] along = fit([.. order.Select(i => strengths[i])], weights);
            double[] levels = new double[order.Length];
            for (int k = 0; k < order.Length; k++) levels[order[k]] = along[k];
            return levels;
        };
    }

    private static OrderedLevels OnGrid(EngravedCard card, SpeedPowerGrid grid)
    {
        double[,] weights = new double[grid.Rows, grid.Columns];
        for (int i = 0; i < card.Marked.Count; i++) weights[grid.Places[i].Row, grid.Places[i].Column] = Weight(card.Marked[i]);
        bool[,] isEmpty = new bool[grid.Rows, grid.Columns];
        for (int r = 0; r < grid.Rows; r++)
        {
            for (int c = 0; c < grid.Columns; c++)
            {
                if (weights[r, c] > 0) continue;
                (isEmpty[r, c], weights[r, c]) = (true, 1e-6);
            }
        }

        return (strengths, tolerance) =>
        {
            double[,] values = new double[grid.Rows, grid.Columns];
            double mean = strengths.Average();
            // A cell that was not measured follows its neighbours: a weight that counts for nothing.
            for (int r = 0; r < grid.Rows; r++)
                for (int c = 0; c < grid.Columns; c++) values[r, c] = isEmpty[r, c] ? mean : 0;
            for (int i = 0; i < strengths.Length; i++) values[grid.Places[i].Row, grid.Places[i].Column] = strengths[i];
            double[,] fit = IsotonicFit.RisingBothWays(values, weights, tolerance);
            return [.. grid.Places.Select(place => fit[place.Row, place.Column])];
        };
    }

    private static double Weight(MarkedCell cell) => 1 / (cell.ChanceScale * cell.ChanceScale);
}
