using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>Parallel logistic curves of two batches: common coefficients, and a shift for the later batch.</summary>
/// <remarks>
/// Ratio of doses exp(−shift / slope), its interval by Fieller's theorem. Where open and held sides mix more than the
/// model's own chance lets them (Pearson's statistic over its degrees of freedom above 1), variances are multiplied by
/// that and Student's quantile is used. Equal shape: each coefficient's difference between the batches is put to a
/// likelihood ratio test, with Holm's adjustment where there are several. docs/method/comparing.md, "Cuts".
/// </remarks>
internal sealed class JointLogistic
{
    private readonly LogisticFit _fit;
    private readonly int _slope;
    private readonly int _shift;

    private JointLogistic(LogisticFit fit, int slope, int shift, double heterogeneity, int degreesOfFreedom,
        (double Statistic, double Probability, int Tests)? shape) =>
        (_fit, _slope, _shift, Heterogeneity, DegreesOfFreedom, Shape) = (fit, slope, shift, heterogeneity, degreesOfFreedom, shape);

    /// <summary>Factor on all variances, 1 or more.</summary>
    public double Heterogeneity { get; }

    /// <summary>Observations less coefficients.</summary>
    public int DegreesOfFreedom { get; }

    /// <summary>
    /// Largest likelihood ratio statistic, smallest adjusted probability, and number of the tests of equal shape; null
    /// where none could be made.
    /// </summary>
    public (double Statistic, double Probability, int Tests)? Shape { get; }

    /// <summary>The coefficients: the data's own, then the shift.</summary>
    public ReadOnlySpan<double> Coefficients => _fit.Coefficients;

    /// <summary>ln of the dose that the later batch needs over that of the first.</summary>
    public double LnRatio => -Coefficients[_shift] / Coefficients[_slope];

    /// <summary>Standard error of a ratio of two coefficients, by the delta method.</summary>
    public double RatioError(int numerator, int denominator)
    {
        (double a, double b) = (Coefficients[numerator], Coefficients[denominator]);
        double[,] v = _fit.Covariance!;
        double ratio = a / b;
        return Math.Sqrt(Math.Max(0, Heterogeneity
            * (v[numerator, numerator] - 2 * ratio * v[numerator, denominator]
                + ratio * ratio * v[denominator, denominator]))) / Math.Abs(b);
    }

    /// <summary>Fits.</summary>
    /// <param name="data">Observations of both batches; column 0 is the intercept.</param>
    /// <param name="isOther">Which of them are the later batch's.</param>
    /// <param name="slope">The column of ln dose.</param>
    /// <param name="shapeColumns">Columns whose coefficients may differ between the batches.</param>
    /// <param name="isPenalised">With Firth's penalty, or plain.</param>
    /// <returns>The fit; null where it does not settle or the slope is not positive.</returns>
    public static JointLogistic? Fit(LogisticData data, bool[] isOther, int slope, int[] shapeColumns, bool isPenalised = true)
    {
        LogisticData shifted = With(data, isOther, [0]);
        LogisticFit fit = LogisticFit.Fit(shifted, isPenalised);
        if (!fit.HasConverged || fit.Covariance is null || !(fit.Coefficients[slope] > 0)) return null;

        int freedom = data.Design.Length - shifted.Coefficients;
        double heterogeneity = freedom < 1 ? 1 : Math.Max(1, Pearson(shifted, fit) / freedom);
        return new(fit, slope, data.Coefficients, heterogeneity, freedom, ShapeOf(data, isOther, shapeColumns, heterogeneity, isPenalised));
    }

    /// <summary>The interval of ln ratio; null where it has no end.</summary>
    /// <param name="coverage">0.95 for 95 %.</param>
    public Fieller? Interval(double coverage)
    {
        double quantile = Quantile(0.5 + coverage / 2);
        double[,] v = _fit.Covariance!;
        return Fieller.Of(-Coefficients[_shift], Coefficients[_slope], v[_shift, _shift], -v[_shift, _slope], v[_slope, _slope],
            quantile * Math.Sqrt(Heterogeneity));
    }

    /// <summary>How far ln ratio lies above some value, in standard errors of that difference: Fieller's own statistic.</summary>
    public double Distance(double lnRatio)
    {
        double[,] v = _fit.Covariance!;
        double variance = v[_shift, _shift] + 2 * lnRatio * v[_shift, _slope] + lnRatio * lnRatio * v[_slope, _slope];
        return (-Coefficients[_shift] - lnRatio * Coefficients[_slope]) / Math.Sqrt(Heterogeneity * variance);
    }

    /// <summary>Degrees of freedom of the error; infinite where the model's own chance explains the data.</summary>
    public double ErrorDegreesOfFreedom => Heterogeneity > 1 ? DegreesOfFreedom : double.PositiveInfinity;

    private double Quantile(double probability) =>
        double.IsInfinity(ErrorDegreesOfFreedom)
            ? Normal.InvCDF(0, 1, probability)
            : StudentT.InvCDF(0, 1, ErrorDegreesOfFreedom, probability);

    private static (double, double, int)? ShapeOf(LogisticData data, bool[] isOther, int[] columns, double heterogeneity, bool isPenalised)
    {
        if (columns.Length == 0) return null;
        LogisticFit free = LogisticFit.Fit(With(data, isOther, [0, .. columns]), isPenalised);
        if (!free.HasConverged || free.Covariance is null) return null;
        double[] statistics = [.. columns.Select((_, i) => Math.Max(0, free.LossAt(data.Coefficients + 1 + i, 0)) / heterogeneity)];
        double[] adjusted = Holm.Adjust([.. statistics.Select(statistic => 1 - ChiSquared.CDF(1, statistic))]);
        return (statistics.Max(), adjusted.Min(), columns.Length);
    }

    private static double Pearson(LogisticData data, LogisticFit fit)
    {
        double sum = 0;
        for (int i = 0; i < data.Design.Length; i++)
        {
            double predictor = 0;
            for (int j = 0; j < data.Coefficients; j++) predictor += data.Design[i][j] * fit.Coefficients[j];
            // Both tails for themselves: 1 − p is nothing but rounding far out.
            double open = 1 / (1 + Math.Exp(-predictor)), held = 1 / (1 + Math.Exp(predictor));
            double excess = data.Successes[i] * held - (data.Trials[i] - data.Successes[i]) * open;
            sum += excess * excess / Math.Max(data.Trials[i] * open * held, double.Epsilon);
        }

        return sum;
    }

    /// <summary>The same data with a column for the later batch beside each of some columns.</summary>
    private static LogisticData With(LogisticData data, bool[] isOther, int[] columns) => data with
    {
        Design = [.. data.Design.Select((row, i) => (double[])[.. row, .. columns.Select(column => isOther[i] ? row[column] : 0)])],
    };
}
