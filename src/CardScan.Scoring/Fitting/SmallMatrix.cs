namespace CardScan.Scoring.Fitting;

/// <summary>Arithmetic of small symmetric matrices, where a library's checks cost more than the sums.</summary>
internal static class SmallMatrix
{
    /// <summary>A pivot this small against its diagonal element is rounding: the matrix is singular.</summary>
    private const double LeastPivot = 1e-13;

    /// <summary>Inverse by Cholesky's decomposition.</summary>
    /// <param name="matrix">Symmetric; only its lower triangle is read.</param>
    /// <param name="lnDeterminant">ln of its determinant.</param>
    /// <returns>The inverse; null where the matrix is not positive definite.</returns>
    public static double[,]? Inverse(double[,] matrix, out double lnDeterminant)
    {
        int size = matrix.GetLength(0);
        double[,] root = new double[size, size];
        lnDeterminant = 0;
        for (int j = 0; j < size; j++)
        {
            for (int i = j; i < size; i++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++) sum -= root[i, k] * root[j, k];
                if (i > j) root[i, j] = sum / root[j, j];
                else if (sum > LeastPivot * matrix[j, j]) root[j, j] = Math.Sqrt(sum);
                else return null;
            }

            lnDeterminant += 2 * Math.Log(root[j, j]);
        }

        return FromRoot(root);
    }

    private static double[,] FromRoot(double[,] root)
    {
        int size = root.GetLength(0);
        double[,] inverse = new double[size, size];
        double[] column = new double[size];
        for (int c = 0; c < size; c++)
        {
            for (int i = 0; i < size; i++)
            {
                double sum = i == c ? 1 : 0;
                for (int k = 0; k < i; k++) sum -= root[i, k] * column[k];
                column[i] = sum / root[i, i];
            }

            for (int i = size - 1; i >= 0; i--)
            {
                double sum = column[i];
                for (int k = i + 1; k < size; k++) sum -= root[k, i] * inverse[k, c];
                inverse[i, c] = sum / root[i, i];
            }
        }

        return inverse;
    }
}
