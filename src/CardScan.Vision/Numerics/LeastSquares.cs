namespace CardScan.Vision;

/// <summary>Small dense nonlinear least squares: Levenberg–Marquardt with a numeric Jacobian and a robust loss.</summary>
/// <remarks>
/// Some thirty residuals and ten unknowns, solved for every photo: here a general library costs more in start-up than
/// it saves. Source of the damping: Marquardt, J. SIAM 11 (1963) 431–441; of the loss: Huber, Ann. Math. Stat. 35 (1964) 73–101.
/// </remarks>
internal static class LeastSquares
{
    private const int MostSteps = 60;

    /// <summary>Finds the parameters of the least sum of losses.</summary>
    /// <param name="start">Where to start.</param>
    /// <param name="scales">Typical size of each parameter, for differences and damping.</param>
    /// <param name="residualsOf">Fills the residuals for given parameters.</param>
    /// <param name="count">Number of residuals.</param>
    /// <param name="huber">Residuals beyond this count linearly; infinity for plain least squares.</param>
    /// <returns>The best parameters found.</returns>
    public static double[] Minimise(
        ReadOnlySpan<double> start, ReadOnlySpan<double> scales, Action<double[], double[]> residualsOf, int count,
        double huber = double.PositiveInfinity)
    {
        double[] best = start.ToArray();
        double[] steps = scales.ToArray();
        double[] residuals = new double[count];
        residualsOf(best, residuals);
        double loss = Loss(residuals, huber);
        double damping = 1e-3;

        for (int i = 0; i < MostSteps && damping < 1e12; i++)
        {
            double[][] jacobian = Jacobian(best, steps, residualsOf, residuals);
            double before = loss;
            while (damping < 1e12)
            {
                double[] trial = Step(best, steps, jacobian, residuals, huber, damping);
                double[] trialResiduals = new double[count];
                residualsOf(trial, trialResiduals);
                double trialLoss = Loss(trialResiduals, huber);
                if (trialLoss < loss)
                {
                    (best, residuals, loss) = (trial, trialResiduals, trialLoss);
                    damping = Math.Max(damping / 10, 1e-12);
                    break;
                }

                damping *= 10;
            }

            if (before - loss <= 1e-14 * before) break;
        }

        return best;
    }

    private static double Loss(double[] residuals, double huber) =>
        residuals.Sum(r => Math.Abs(r) <= huber ? r * r : huber * (2 * Math.Abs(r) - huber));

    private static double[][] Jacobian(double[] at, double[] scales, Action<double[], double[]> residualsOf, double[] residuals)
    {
        double[][] columns = new double[at.Length][];
        for (int p = 0; p < at.Length; p++)
        {
            double step = scales[p] * 1e-5;
            double[] moved = [.. at];
            moved[p] += step;
            double[] column = new double[residuals.Length];
            residualsOf(moved, column);
            // In units of the parameter's scale, so that one damping serves all of them.
            for (int r = 0; r < column.Length; r++) column[r] = (column[r] - residuals[r]) / 1e-5;
            columns[p] = column;
        }

        return columns;
    }

    private static double[] Step(double[] from, double[] scales, double[][] jacobian, double[] residuals, double huber, double damping)
    {
        int n = from.Length;
        double[,] normal = new double[n, n];
        double[] gradient = new double[n];
        double[] weights = [.. residuals.Select(r => Math.Abs(r) <= huber ? 1 : huber / Math.Abs(r))];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = 0;
                for (int r = 0; r < residuals.Length; r++) sum += weights[r] * jacobian[i][r] * jacobian[j][r];
                normal[i, j] = normal[j, i] = sum;
            }

            for (int r = 0; r < residuals.Length; r++) gradient[i] -= weights[r] * jacobian[i][r] * residuals[r];
        }

        for (int i = 0; i < n; i++) normal[i, i] += damping * Math.Max(normal[i, i], 1e-12);
        double[] delta = SolveSymmetric(normal, gradient);
        return [.. from.Select((value, i) => value + delta[i] * scales[i])];
    }

    /// <summary>Weighted linear least squares: the coefficients of the rows that come nearest to the targets.</summary>
    internal static double[] SolveWeighted(IReadOnlyList<double[]> rows, ReadOnlySpan<double> targets, ReadOnlySpan<double> weights)
    {
        double[] right = new double[rows[0].Length];
        for (int r = 0; r < rows.Count; r++)
        {
            double[] row = rows[r];
            for (int i = 0; i < right.Length; i++) right[i] += weights[r] * row[i] * targets[r];
        }

        return SolveSymmetric(NormalMatrix(rows, weights), right);
    }

    /// <summary>
    /// Covariance of some of the coefficients of <see cref="SolveWeighted"/>, the weights being 1 over the targets'
    /// variances.
    /// </summary>
    internal static double[,] CovarianceOf(IReadOnlyList<double[]> rows, ReadOnlySpan<double> weights, int[] coefficients)
    {
        double[,] normal = NormalMatrix(rows, weights), covariance = new double[coefficients.Length, coefficients.Length];
        for (int i = 0; i < coefficients.Length; i++)
        {
            double[] unit = new double[rows[0].Length];
            unit[coefficients[i]] = 1;
            double[] column = SolveSymmetric(normal, unit);
            for (int j = 0; j < coefficients.Length; j++) covariance[j, i] = column[coefficients[j]];
        }

        return covariance;
    }

    private static double[,] NormalMatrix(IReadOnlyList<double[]> rows, ReadOnlySpan<double> weights)
    {
        // Where most of the time of a light field goes: the lower triangle lies flat, row after row, while it is summed.
        int n = rows[0].Length;
        double[] lower = new double[n * (n + 1) / 2];
        for (int r = 0; r < rows.Count; r++)
        {
            if (weights[r] == 0) continue;
            double[] row = rows[r];
            int at = 0;
            for (int i = 0; i < row.Length; i++)
            {
                double weighted = weights[r] * row[i];
                for (int j = 0; j <= i; j++) lower[at++] += weighted * row[j];
            }
        }

        double[,] normal = new double[n, n];
        for (int i = 0, at = 0; i < n; i++)
            for (int j = 0; j <= i; j++) normal[i, j] = normal[j, i] = lower[at++];
        return normal;
    }

    /// <summary>
    /// The lower triangle L of a symmetric positive definite matrix A = L Lᵀ (Cholesky); infinite on the diagonal where a direction
    /// has no support.
    /// </summary>
    internal static double[,] SquareRoot(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        double[,] lower = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++) sum -= lower[i, k] * lower[j, k];
                if (i == j) lower[i, i] = sum > 1e-14 * matrix[i, i] ? Math.Sqrt(sum) : double.PositiveInfinity;
                else lower[i, j] = sum / lower[j, j];
            }
        }

        return lower;
    }

    /// <summary>Solves a symmetric positive definite system (Cholesky); directions without support stay at zero.</summary>
    internal static double[] SolveSymmetric(double[,] matrix, double[] right)
    {
        int n = right.Length;
        double[,] lower = SquareRoot(matrix);
        double[] x = [.. right];
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < i; k++) x[i] -= lower[i, k] * x[k];
            x[i] /= lower[i, i];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < n; k++) x[i] -= lower[k, i] * x[k];
            x[i] /= lower[i, i];
        }

        return x;
    }
}
