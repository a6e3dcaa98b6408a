namespace CardScan.Scoring.Fitting;

/// <summary>Root of a symmetric positive definite matrix, for small ones that are solved by the hundred.</summary>
internal sealed class Cholesky
{
    private readonly double[][] _root;

    private Cholesky(double[][] root) => _root = root;

    /// <summary>ln of the determinant.</summary>
    public double LnDeterminant { get; private init; }

    /// <summary>The root of matrix + diagonal; null where that is not positive definite.</summary>
    /// <param name="matrix">Symmetric; only its lower triangle is read.</param>
    /// <param name="diagonal">Added to its diagonal.</param>
    public static Cholesky? Of(double[,] matrix, ReadOnlySpan<double> diagonal)
    {
        int size = diagonal.Length;
        double[][] root = [.. Enumerable.Range(0, size).Select(i => new double[i + 1])];
        double lnDeterminant = 0;
        for (int i = 0; i < size; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = matrix[i, j] - Dot(root[i], root[j], j);
                if (j < i)
                {
                    root[i][j] = sum / root[j][j];
                    continue;
                }

                sum += diagonal[i];
                if (!(sum > 0)) return null;
                root[i][i] = Math.Sqrt(sum);
                lnDeterminant += Math.Log(sum);
            }
        }

        return new(root) { LnDeterminant = lnDeterminant };
    }

    /// <summary>The matrix's inverse times a vector.</summary>
    public double[] Solve(ReadOnlySpan<double> vector)
    {
        double[] x = vector.ToArray();
        for (int i = 0; i < x.Length; i++) x[i] = (x[i] - Dot(_root[i], x, i)) / _root[i][i];
        BackSubstitute(x);
        return x;
    }

    /// <summary>The transposed root's inverse times a vector: of standard normal numbers it makes ones whose covariance is the matrix's inverse.</summary>
    public void BackSubstitute(Span<double> vector)
    {
        for (int i = vector.Length - 1; i >= 0; i--)
        {
            double x = vector[i] / _root[i][i];
            vector[i] = x;
            for (int j = 0; j < i; j++) vector[j] -= _root[i][j] * x;
        }
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int count)
    {
        double sum = 0;
        for (int k = 0; k < count; k++) sum += a[k] * b[k];
        return sum;
    }
}
