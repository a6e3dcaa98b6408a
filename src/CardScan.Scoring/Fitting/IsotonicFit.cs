namespace CardScan.Scoring.Fitting;

/// <summary>Weighted least squares under an order instead of a law.</summary>
internal static class IsotonicFit
{
    private const int MostRounds = 2000;

    /// <summary>The non-decreasing sequence closest to the values.</summary>
    /// <param name="values">Values, in the order in which the fit must not fall.</param>
    /// <param name="weights">Weights, zero or greater; a value of weight zero takes its neighbours' level.</param>
    /// <remarks>
    /// Pool adjacent violators: M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid, E. Silverman, Ann. Math. Statist. 26
    /// (1955) 641–647.
    /// </remarks>
    public static double[] Rising(ReadOnlySpan<double> values, ReadOnlySpan<double> weights)
    {
        List<(double Mean, double Weight, int Count)> blocks = [];
        for (int i = 0; i < values.Length; i++)
        {
            (double Mean, double Weight, int Count) block = (values[i], weights[i], 1);
            while (blocks.Count > 0 && (blocks[^1].Mean >= block.Mean || blocks[^1].Weight == 0 || block.Weight == 0))
            {
                (double mean, double weight, int count) = blocks[^1];
                blocks.RemoveAt(blocks.Count - 1);
                double sum = weight + block.Weight;
                block = (sum > 0 ? (mean * weight + block.Mean * block.Weight) / sum : 0, sum, count + block.Count);
            }

            blocks.Add(block);
        }

        double[] fit = new double[values.Length];
        int at = 0;
        foreach ((double mean, _, int count) in blocks)
        {
            fit.AsSpan(at, count).Fill(mean);
            at += count;
        }

        return fit;
    }

    /// <summary>The sequence closest to the values that rises to some place and falls from there on.</summary>
    /// <returns>The fit and the first index of its highest level.</returns>
    public static (double[] Fit, int Peak) RisingThenFalling(ReadOnlySpan<double> values, ReadOnlySpan<double> weights)
    {
        double[] best = [];
        double least = double.PositiveInfinity;
        int peak = values.Length - 1;
        for (int k = values.Length; k >= 1; k--)
        {
            double[] fallingValues = values[k..].ToArray();
            double[] fallingWeights = weights[k..].ToArray();
            Array.Reverse(fallingValues);
            Array.Reverse(fallingWeights);
            double[] falling = Rising(fallingValues, fallingWeights);
            Array.Reverse(falling);
            double[] fit = [.. Rising(values[..k], weights[..k]), .. falling];
            double sum = 0;
            for (int i = 0; i < fit.Length; i++) sum += weights[i] * (values[i] - fit[i]) * (values[i] - fit[i]);
            if (sum < least - 1e-12) (best, least, peak) = (fit, sum, Array.IndexOf(fit, fit.Max()));
        }

        return (best, peak);
    }

    /// <summary>The table closest to the values that falls neither from left to right nor from top to bottom.</summary>
    /// <param name="values">Rows × columns.</param>
    /// <param name="weights">Rows × columns, each greater than zero.</param>
    /// <param name="tolerance">Change of a value in one round below which the fit is near enough, in the unit of the values.</param>
    /// <remarks>R. L. Dykstra, T. Robertson, Ann. Statist. 10 (1982) 708–716: rows and columns in turn, with increments.</remarks>
    public static double[,] RisingBothWays(double[,] values, double[,] weights, double tolerance = 1e-12)
    {
        (int rows, int columns) = (values.GetLength(0), values.GetLength(1));
        double[,] fit = (double[,])values.Clone();
        double[,] alongRows = new double[rows, columns];
        double[,] alongColumns = new double[rows, columns];
        for (int round = 0; round < MostRounds; round++)
        {
            double change = 0;
            for (int r = 0; r < rows; r++)
            {
                int row = r;
                change = Math.Max(change, Project(fit, weights, alongRows, columns, k => (row, k)));
            }

            for (int c = 0; c < columns; c++)
            {
                int column = c;
                change = Math.Max(change, Project(fit, weights, alongColumns, rows, k => (k, column)));
            }

            if (change < tolerance) break;
        }

        return fit;
    }

    private static double Project(double[,] fit, double[,] weights, double[,] increments, int length,
        Func<int, (int Row, int Column)> place)
    {
        double[] line = new double[length];
        double[] lineWeights = new double[length];
        for (int k = 0; k < length; k++)
        {
            (int r, int c) = place(k);
            (line[k], lineWeights[k]) = (fit[r, c] - increments[r, c], weights[r, c]);
        }

        double[] rising = Rising(line, lineWeights);
        double change = 0;
        for (int k = 0; k < length; k++)
        {
            (int r, int c) = place(k);
            increments[r, c] = rising[k] - line[k];
            change = Math.Max(change, Math.Abs(rising[k] - fit[r, c]));
            fit[r, c] = rising[k];
        }

        return change;
    }
}
