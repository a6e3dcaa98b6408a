using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>Analysis of variance of targets (cells) by judges (photos), and the intraclass correlations of single measurements.</summary>
/// <remarks>P. E. Shrout, J. L. Fleiss, Psychol. Bull. 86 (1979) 420–428, with their intervals.</remarks>
internal sealed class IntraclassCorrelation
{
    private readonly int _targets;
    private readonly int _judges;

    /// <param name="table">Targets × judges, no gaps; 2 × 2 or larger.</param>
    public IntraclassCorrelation(double[][] table)
    {
        (_targets, _judges) = (table.Length, table[0].Length);
        double mean = table.Average(row => row.Average());
        double targets = _judges * table.Sum(row => Math.Pow(row.Average() - mean, 2));
        double judges = _targets * Enumerable.Range(0, _judges).Sum(j => Math.Pow(table.Average(row => row[j]) - mean, 2));
        double within = table.Sum(row => row.Sum(value => Math.Pow(value - row.Average(), 2)));
        TargetMeanSquare = targets / (_targets - 1);
        JudgeMeanSquare = judges / (_judges - 1);
        // Measurements that agree to the last digit have no variance to divide by; a trillionth of the whole stands for none.
        double least = 1e-12 * (targets + within) + double.Epsilon;
        WithinMeanSquare = Math.Max(within, least) / (_targets * (_judges - 1));
        ErrorMeanSquare = Math.Max(within - judges, least) / ((_targets - 1) * (_judges - 1));
    }

    public double TargetMeanSquare { get; }

    public double JudgeMeanSquare { get; }

    public double WithinMeanSquare { get; }

    public double ErrorMeanSquare { get; }

    /// <summary>ICC(1,1): every target by judges of its own.</summary>
    public Interval Single()
    {
        double value = (TargetMeanSquare - WithinMeanSquare) / (TargetMeanSquare + (_judges - 1) * WithinMeanSquare);
        double f = TargetMeanSquare / WithinMeanSquare;
        double between = _targets - 1, within = _targets * (_judges - 1);
        double low = f / Quantile(between, within), high = f * Quantile(within, between);
        return new("icc", value, (low - 1) / (low + _judges - 1), (high - 1) / (high + _judges - 1));
    }

    /// <summary>ICC(2,1): the same judges for all, a random sample of judges; agreement, not mere consistency.</summary>
    public Interval Agreement()
    {
        (double n, double k) = (_targets, _judges);
        (double b, double j, double e) = (TargetMeanSquare, JudgeMeanSquare, ErrorMeanSquare);
        double value = (b - e) / (b + (k - 1) * e + k * (j - e) / n);
        double fj = j / e;
        double share = n * (1 + (k - 1) * value) - k * value;
        double df = (k - 1) * (n - 1) * Math.Pow(k * value * fj + share, 2) / ((n - 1) * Math.Pow(k * value * fj, 2) + share * share);
        double below = Quantile(n - 1, df), above = Quantile(df, n - 1);
        return new(
            "icc", value,
            n * (b - below * e) / (below * (k * j + (k * n - k - n) * e) + n * b),
            n * (above * b - e) / (k * j + (k * n - k - n) * e + n * above * b));
    }

    private static double Quantile(double numerator, double denominator) => FisherSnedecor.InvCDF(numerator, denominator, 0.975);
}
