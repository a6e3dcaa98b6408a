using CardScan.Scoring.Carrying;
using MathNet.Numerics.Optimization;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>
/// The pooling against mixed models of published data, as the R package lme4 1.1.31 fits them by restricted likelihood (REML).
/// </summary>
/// <remarks>
/// In balanced data the estimates of the groups (means, intercepts, slopes) are the shifts, each with the variance σ²/n that its own line
/// gives it; the spread that is likeliest given them is then the one of REML, and the mean has its standard error. Not comparable: fits
/// by full likelihood; effects of groups in a model of intercepts and slopes, which shrinks both together; a model with a further
/// covariate between groups, where there is no one mean.
/// </remarks>
public sealed class PublishedPoolsTests
{
    private static readonly double[] Days = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], Ages = [8, 10, 12, 14];

    /// <summary>Yield ~ 1 + (1 | Batch): criterion 319.654277, mean 1527.5, its error 19.383424, sd 42.000595 and 49.510094.</summary>
    [Fact]
    public void Dyestuff_by_batches()
    {
        const double residual = 49.510094;
        double[][] batches = Groups("lme4_dyestuff", "Batch", "Yield");
        (double, double)[] means = [.. batches.Select(batch => (batch.Mean(), residual * residual / 5))];
        (double tau, PooledShift pooled) = Likeliest(means);

        Assert.Equal(42.0006, tau, 0.005);
        Assert.Equal(1527.5, pooled.Mean, 1e-6);
        Assert.Equal(19.383424, Math.Sqrt(pooled.Variance), 0.002);
        Assert.Equal([-17.6069, 0.3913, 28.5622, -23.0845, 56.7332, -44.9953], Effects(means, tau, pooled), Within(0.002));

        // The likelihood of the batches' means, with what the samples differ by within them, is that of all samples.
        double within = batches.Sum(batch => batch.Sum(yield => Math.Pow(yield - batch.Mean(), 2)));
        double criterion = 29 * Math.Log(2 * Math.PI) + 24 * Math.Log(residual * residual) + within / (residual * residual)
            + 6 * Math.Log(5) - 2 * pooled.LnLikelihood;
        Assert.Equal(319.654277, criterion, 1e-5);
    }

    /// <summary>
    /// Reaction ~ Days + (1 | Subject): sd 37.123842 and 30.991233, error of the intercept 9.746719 and of the slope 0.804221, effects of
    /// the first three persons. The intercept is the mean less 4.5 days of the slope, and independent of it.
    /// </summary>
    [Fact]
    public void Sleep_by_persons()
    {
        const double residual = 30.991233;
        (double, double)[] means =
            [.. Groups("lme4_sleepstudy", "Subject", "Reaction").Select(person => (person.Mean(), residual * residual / 10))];
        (double tau, PooledShift pooled) = Likeliest(means);

        Assert.Equal(37.1238, tau, 0.005);
        Assert.Equal(9.746719, Math.Sqrt(pooled.Variance + Math.Pow(4.5 * 0.804221, 2)), 0.001);
        Assert.Equal([40.7837, -77.8496, -63.1086], Effects(means, tau, pooled).Take(3), Within(0.005));
    }

    /// <summary>
    /// Reaction ~ Days + (Days | Subject): 251.405105 and 10.467286, errors 6.824597 and 1.545790, sd 24.740658 and 5.922138, residual
    /// 25.591796; distance ~ age + (age | Subject): 16.761111 and 0.660185, 0.775246 and 0.071253, 2.327029 and 0.226427, 1.310040.
    /// </summary>
    [Theory]
    [InlineData("lme4_sleepstudy", "Reaction", 25.5918, false, 251.405105, 6.8246, 24.7407)]
    [InlineData("lme4_sleepstudy", "Reaction", 25.5918, true, 10.467286, 1.5458, 5.9221)]
    [InlineData("nlme_orthodont", "distance", 1.310040, false, 16.761111, 0.775246, 2.327029)]
    [InlineData("nlme_orthodont", "distance", 1.310040, true, 0.660185, 0.071253, 0.226427)]
    public void Lines_by_persons(string data, string column, double residual, bool isSlope, double mean, double error, double spread)
    {
        double[] x = data == "lme4_sleepstudy" ? Days : Ages;
        double squares = x.Sum(each => Math.Pow(each - x.Mean(), 2));
        double variance = residual * residual * (isSlope ? 1 / squares : 1.0 / x.Length + Math.Pow(x.Mean(), 2) / squares);
        (double, double)[] lines = [.. Groups(data, "Subject", column).Select(person =>
        {
            (double intercept, double slope) = MathNet.Numerics.Fit.Line(x, person);
            return (isSlope ? slope : intercept, variance);
        })];
        (double tau, PooledShift pooled) = Likeliest(lines);

        Assert.Equal(mean, pooled.Mean, 1e-5 * mean);
        Assert.Equal(error, Math.Sqrt(pooled.Variance), 1e-3 * error);
        Assert.Equal(spread, tau, 2e-3 * spread);
    }

    private static double[][] Groups(string data, string group, string column)
    {
        DataTable table = DataTable.Read(data);
        return [.. table.Words(group).Distinct().Select(name => table.Where(group, name).Numbers(column))];
    }

    /// <summary>The spread that is likeliest, the mean being flat beforehand.</summary>
    private static (double Tau, PooledShift Pooled) Likeliest((double, double)[] shifts)
    {
        double scale = shifts.Select(each => each.Item1).StandardDeviation();
        double tau = scale * GoldenSectionMinimizer.Minimum(
            ObjectiveFunction.ScalarValue(part => -PooledShift.Of(shifts, part * scale).LnLikelihood), 0.01, 2, 1e-8).MinimizingPoint;
        return (tau, PooledShift.Of(shifts, tau));
    }

    /// <summary>What is particular to each group, as far as its own error lets it be told from the mean.</summary>
    private static IEnumerable<double> Effects((double Shift, double Variance)[] shifts, double tau, PooledShift pooled) =>
        shifts.Select(each => tau * tau / (tau * tau + each.Variance) * (each.Shift - pooled.Mean));

    private static Func<double, double, bool> Within(double tolerance) => (one, other) => Math.Abs(one - other) <= tolerance;
}
