namespace CardScan.Scoring.Fitting;

/// <summary>Root of a symmetric positive definite matrix, for small ones that are solved by the hundred.</summary>
internal sealed class Cholesky
{
    private readonly double[] _root;

    private Cholesky(double[] root) => _root = root;

    /// <summary>ln of the determinant.</summary>
    public double LnDeterminant { get; private init; }

    /// <summary>The root of matrix + diagonal; null where that is not positive definite.</summary>
    /// <param name="matrix">Symmetric; only its lower triangle is read.</param>
    /// <param name="diagonal">Added to its diagonal.</param>
    public static Cholesky? Of(double[,] matrix, ReadOnlySpan<double> diagonal)
    {
        double[] root = new double[SmallMatrix.PackedLength(diagonal.Length)];
        for (int i = 0, at = 0; i < diagonal.Length; i++)
        {
            for (int j = 0; j <= i; j++) root[at++] = matrix[i, j];
            root[at - 1] += diagonal[i];
        }

        return SmallMatrix.TryFactor(root, diagonal.Length, root, out double lnDeterminant)
            ? new(root) { LnDeterminant = lnDeterminant }
            : null;
    }

    /// <summary>The matrix's inverse times a vector.</summary>
    public double[] Solve(ReadOnlySpan<double> vector)
    {
        double[] x = vector.ToArray();
        SmallMatrix.Solve(_root, x);
        SmallMatrix.SolveTransposed(_root, x);
        return x;
    }

    /// <summary>
    /// The transposed root's inverse times a vector: of standard normal numbers it makes ones whose covariance is the matrix's inverse.
    /// </summary>
    public void BackSubstitute(Span<double> vector) => SmallMatrix.SolveTransposed(_root, vector);
}
