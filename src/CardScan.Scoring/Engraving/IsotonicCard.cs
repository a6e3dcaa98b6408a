using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>The fallback without a law: only that the mark does not weaken with more power or less speed.</summary>
/// <remarks>
/// Where the cells form a grid of speed and power the order is that of the grid; else that of the energy. The standard
/// error of a pooled level is that of a mean of its cells, which takes the pooling as given: a little too small, and
/// said so in docs/method/engrave-scoring.md.
/// </remarks>
internal static class IsotonicCard
{
    /// <summary>Least weakening past the peak that is taken for more than chance, as a share of the peak.</summary>
    private const double LeastWeakening = 0.1;

    private const double WeakeningDeviations = 3;

    /// <summary>One estimate a used cell, in their order.</summary>
    public static CellEstimate[] Estimates(EngravedCard card, double fullMarkShare) => Estimates(card, Levels(card), fullMarkShare);

    /// <summary>
    /// The same where the mark clearly weakens past some energy: a coat that burns off, wood that turns to ash. Null where
    /// it does not. Also the energy of the strongest mark, J/mm².
    /// </summary>
    public static (CellEstimate[] Estimates, double PeakDose)? Weakening(EngravedCard card, double fullMarkShare)
    {
        int[] order = [.. Enumerable.Range(0, card.Marked.Count).OrderBy(i => card.Marked[i].Cell.LnDose)];
        double[] values = [.. order.Select(i => card.Marked[i].Strength)];
        (double[] fit, int peak) = IsotonicFit.RisingThenFalling(values, [.. order.Select(i => Weight(card.Marked[i]))]);
        double deviation = Deviation(card, values, fit);
        double weakening = fit[peak] - fit[^1];
        int atEnd = fit.Count(level => Math.Abs(level - fit[^1]) < 1e-9);
        if (weakening < LeastWeakening * fit[peak] || weakening < WeakeningDeviations * deviation * Math.Sqrt(1 + 1.0 / atEnd)) return null;

        double[] levels = new double[order.Length];
        for (int k = 0; k < order.Length; k++) levels[order[k]] = fit[k];
        return (Estimates(card, levels, fullMarkShare), Math.Exp(card.Marked[order[peak]].Cell.LnDose));
    }

    private static CellEstimate[] Estimates(EngravedCard card, double[] levels, double fullMarkShare)
    {
        double[] values = [.. card.Marked.Select(cell => cell.Strength)];
        double deviation = Deviation(card, values, levels);
        double strongest = levels.Max();
        return [.. card.Marked.Select((cell, i) =>
        {
            double share = strongest > 0 ? Math.Clamp(levels[i] / strongest, 0, 1) : 0;
            bool isStrongest = levels[i] >= strongest - 1e-9;
            double error = isStrongest ? 0
                : LevelError(levels, i, deviation, strongest) + 1e-9;
            double probability = isStrongest ? 1 : Normal.CDF(0, 1, (share - fullMarkShare) / error);
            return new CellEstimate(cell, levels[i], share, error,
                Math.Max(0, share - 1.96 * error), Math.Min(1, share + 1.96 * error), probability);
        })];
    }

    /// <summary>RMS deviation of the cells from their levels and the stated errors, whichever is larger.</summary>
    public static double Deviation(EngravedCard card, double[] values, double[] levels)
    {
        int blocks = levels.Select(level => Math.Round(level, 9)).Distinct().Count();
        double sum = values.Zip(levels, (value, level) => (value - level) * (value - level)).Sum();
        double fromResiduals = Math.Sqrt(sum / Math.Max(1, values.Length - blocks));
        double stated = Math.Sqrt(card.Marked.Average(cell => cell.StandardError * cell.StandardError));
        return Math.Max(fromResiduals, stated);
    }

    /// <summary>The monotone level of each used cell.</summary>
    public static double[] Levels(EngravedCard card)
    {
        List<double> powers = [.. card.Marked.Select(cell => cell.Cell.Settings.PowerPercent).Distinct().Order()];
        List<double> speeds = [.. card.Marked.Select(cell => cell.Cell.Settings.SpeedMmPerMin).Distinct().OrderDescending()];
        bool isGrid = powers.Count > 1 && speeds.Count > 1
            && card.Marked.Count > powers.Count * speeds.Count / 2
            && card.Marked.Select(Place).Distinct().Count() == card.Marked.Count;
        if (!isGrid) return AlongEnergy(card);

        double[,] values = new double[speeds.Count, powers.Count];
        double[,] weights = new double[speeds.Count, powers.Count];
        foreach (MarkedCell cell in card.Marked)
        {
            (int row, int column) = Place(cell);
            (values[row, column], weights[row, column]) = (cell.Strength, Weight(cell));
        }

        // A cell that was not measured follows its neighbours: a weight that counts for nothing.
        double mean = card.Marked.Average(cell => cell.Strength);
        for (int r = 0; r < speeds.Count; r++)
        {
            for (int c = 0; c < powers.Count; c++)
            {
                if (weights[r, c] == 0) (values[r, c], weights[r, c]) = (mean, 1e-6);
            }
        }

        double[,] fit = IsotonicFit.RisingBothWays(values, weights);
        return [.. card.Marked.Select(cell => fit[Place(cell).Row, Place(cell).Column])];

        (int Row, int Column) Place(MarkedCell cell) =>
            (speeds.IndexOf(cell.Cell.Settings.SpeedMmPerMin), powers.IndexOf(cell.Cell.Settings.PowerPercent));
    }

    private static double[] AlongEnergy(EngravedCard card)
    {
        (MarkedCell Cell, int Index)[] ordered = [.. card.Marked.Select((cell, i) => (cell, i)).OrderBy(pair => pair.cell.Cell.LnDose)];
        double[] fit = IsotonicFit.Rising([.. ordered.Select(pair => pair.Cell.Strength)], [.. ordered.Select(pair => Weight(pair.Cell))]);
        double[] levels = new double[ordered.Length];
        for (int k = 0; k < ordered.Length; k++) levels[ordered[k].Index] = fit[k];
        return levels;
    }

    private static double Weight(MarkedCell cell) => 1 / (cell.ChanceScale * cell.ChanceScale);

    private static double LevelError(double[] levels, int index, double deviation, double strongest)
    {
        double own = deviation / Math.Sqrt(levels.Count(level => Math.Abs(level - levels[index]) < 1e-9));
        double top = deviation / Math.Sqrt(levels.Count(level => Math.Abs(level - strongest) < 1e-9));
        return Math.Sqrt(own * own + top * top) / strongest;
    }
}
