namespace CardScan.Scoring.Fitting;

/// <summary>Arithmetic of small symmetric matrices, where a library's checks cost more than the sums.</summary>
internal static class SmallMatrix
{
    /// <summary>A pivot this small against its diagonal element is rounding: the matrix is singular.</summary>
    private const double LeastPivot = 1e-13;

    /// <summary>Numbers of a lower triangle, row by row: element (i, j) is at i (i + 1) / 2 + j.</summary>
    public static int PackedLength(int size) => size * (size + 1) / 2;

    /// <summary>Cholesky's root of a matrix given by its lower triangle, row by row.</summary>
    /// <param name="matrix">The lower triangle.</param>
    /// <param name="size">Rows.</param>
    /// <param name="root">Filled with the root's lower triangle; may be the matrix itself.</param>
    /// <param name="lnDeterminant">ln of the matrix's determinant.</param>
    /// <returns>False where the matrix is not positive definite.</returns>
    public static bool TryFactor(ReadOnlySpan<double> matrix, int size, Span<double> root, out double lnDeterminant)
    {
        lnDeterminant = 0;
        for (int i = 0, row = 0; i < size; row += ++i)
        {
            for (int j = 0, other = 0; j <= i; other += ++j)
            {
                double diagonal = matrix[row + j], sum = diagonal - Vectors.Dot(root.Slice(row, j), root[other..]);
                if (j < i) root[row + j] = sum / root[other + j];
                else if (sum > LeastPivot * diagonal) root[row + j] = Math.Sqrt(sum);
                else return false;
            }

            lnDeterminant += 2 * Math.Log(root[row + i]);
        }

        return true;
    }

    /// <summary>xᵀ · inverse · x, by the matrix's root.</summary>
    public static double QuadraticOfInverse(ReadOnlySpan<double> root, ReadOnlySpan<double> x)
    {
        Span<double> solved = stackalloc double[x.Length];
        x.CopyTo(solved);
        Solve(root, solved);
        return Vectors.Dot(solved, solved);
    }

    /// <summary>Solves root · x = y in place.</summary>
    public static void Solve(ReadOnlySpan<double> root, Span<double> y)
    {
        for (int i = 0, row = 0; i < y.Length; row += ++i) y[i] = (y[i] - Vectors.Dot(root.Slice(row, i), y)) / root[row + i];
    }

    /// <summary>
    /// Solves rootᵀ · x = y in place: of numbers without scatter and correlation it makes ones that scatter by the inverse.
    /// </summary>
    public static void SolveTransposed(ReadOnlySpan<double> root, Span<double> y)
    {
        for (int i = y.Length - 1; i >= 0; i--)
        {
            ReadOnlySpan<double> row = root.Slice(i * (i + 1) / 2, i + 1);
            double x = y[i] / row[i];
            y[i] = x;
            for (int k = 0; k < i; k++) y[k] -= row[k] * x;
        }
    }

    /// <summary>Inverse by Cholesky's decomposition.</summary>
    /// <param name="matrix">Symmetric; only its lower triangle is read.</param>
    /// <param name="lnDeterminant">ln of its determinant.</param>
    /// <returns>The inverse; null where the matrix is not positive definite.</returns>
    public static double[,]? Inverse(double[,] matrix, out double lnDeterminant)
    {
        int size = matrix.GetLength(0);
        double[] root = new double[PackedLength(size)];
        for (int i = 0, at = 0; i < size; i++)
            for (int j = 0; j <= i; j++) root[at++] = matrix[i, j];
        return TryFactor(root, size, root, out lnDeterminant) ? FromRoot(root, size) : null;
    }

    private static double[,] FromRoot(double[] root, int size)
    {
        double[,] inverse = new double[size, size];
        double[] column = new double[size];
        for (int c = 0; c < size; c++)
        {
            Array.Clear(column);
            column[c] = 1;
            Solve(root, column);
            SolveTransposed(root, column);
            for (int i = 0; i < size; i++) inverse[i, c] = column[i];
        }

        return inverse;
    }
}
