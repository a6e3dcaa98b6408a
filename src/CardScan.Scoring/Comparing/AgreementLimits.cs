using CardScan.Model;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Comparing;

/// <summary>Limits of agreement with their intervals.</summary>
/// <remarks>
/// J. M. Bland, D. G. Altman, Lancet 1986; i:307–310: bias ± 1.96 standard deviations; standard error of the bias
/// s / √n, of a limit √(3 / n) · s, Student's quantile with n − 1 degrees of freedom.
/// </remarks>
internal static class AgreementLimits
{
    private const int FewestCells = 3;
    private const double Quantile = 1.96;

    /// <summary>The limits; null for fewer than three differences.</summary>
    /// <param name="differences">Later less first.</param>
    /// <param name="quantity">What they are of.</param>
    public static Agreement? Of(IReadOnlyList<double> differences, string quantity)
    {
        int count = differences.Count;
        if (count < FewestCells) return null;
        double bias = differences.Average(), deviation = differences.StandardDeviation();
        double t = StudentT.InvCDF(0, 1, count - 1, 0.975);
        return new(
            count, deviation,
            Around(bias, t * deviation / Math.Sqrt(count)),
            Around(bias - Quantile * deviation, t * Math.Sqrt(3.0 / count) * deviation),
            Around(bias + Quantile * deviation, t * Math.Sqrt(3.0 / count) * deviation));

        Interval Around(double value, double half) => new(quantity, value, value - half, value + half);
    }
}
