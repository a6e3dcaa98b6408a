using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Fitting;

public sealed class NonlinearFitTests
{
    /// <summary>Digits that must agree with the certified values, parameters and deviations alike.</summary>
    private const double Digits = 6;

    private delegate double Curve(ReadOnlySpan<double> b, double x);

    // NIST StRD: https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml, models as given there.
    [Theory]
    [InlineData("Misra1a")]
    [InlineData("Chwirut2")]
    [InlineData("Rat42")]
    [InlineData("MGH09")]
    [InlineData("Rat43")]
    [InlineData("Thurber")]
    public void Certified_parameters_and_deviations_are_reproduced_from_both_starts(string dataset)
    {
        DataTable certified = DataTable.Read("nist_nonlinear_certified").Where("dataset", dataset);
        double[] values = certified.Numbers("certified");
        double[] deviations = certified.Numbers("certified_sd");
        Assert.True(values.Length >= 2);
        foreach (string start in new[] { "start1", "start2" })
        {
            NonlinearFit fit = Fit(dataset, certified.Numbers(start));

            Assert.Equal(FitStop.Converged, fit.Stop);
            for (int j = 0; j < values.Length; j++)
            {
                Assert.True(AgreeingDigits(fit.Parameters[j], values[j]) >= Digits, $"{dataset} {start} b{j + 1}: {fit.Parameters[j]}");
                double deviation = Math.Sqrt(fit.UnitVariance * fit.Cofactors![j, j]);
                Assert.True(AgreeingDigits(deviation, deviations[j]) >= Digits, $"{dataset} {start} deviation of b{j + 1}: {deviation}");
            }
        }
    }

    [Fact]
    // drc 3.0-1 documentation, ryegrass: b 2.98222, c 0.48141, d 7.79296, e 3.05795, residual SE 0.5196256. Standard errors
    // are those of the expected Hessian (R nls): 0.45842882, 0.20950604, 0.18973326, 0.18582890; drc prints the observed one's.
    public void The_four_parameter_logistic_of_the_ryegrass_data_is_reproduced()
    {
        DataTable data = DataTable.Read("ryegrass");
        double[] dose = data.Numbers("conc");
        double[] length = data.Numbers("rootl");

        NonlinearFit fit = NonlinearFit.Minimise(
            (p, r) =>
            {
                for (int i = 0; i < r.Length; i++)
                    r[i] = length[i] - (p[1] + (p[2] - p[1]) / (1 + (dose[i] > 0 ? Math.Pow(dose[i] / p[3], p[0]) : 0)));
            },
            dose.Length, [2, 0.2, 8, 3]);

        double[] values = [2.98222867, 0.48140994, 7.79296233, 3.05795517];
        double[] errors = [0.45842882, 0.20950604, 0.18973326, 0.18582890];
        for (int j = 0; j < 4; j++)
        {
            Assert.Equal(values[j], fit.Parameters[j], 1e-6);
            Assert.Equal(errors[j], Math.Sqrt(fit.UnitVariance * fit.Cofactors![j, j]), 1e-6);
        }

        Assert.Equal(0.519625568, Math.Sqrt(fit.UnitVariance), 1e-8);
    }

    [Fact]
    public void A_parameter_on_its_bound_keeps_its_uncertainty_and_a_fixed_one_has_none()
    {
        double[] x = [1, 2, 3, 4, 5];
        double[] y = [-1.1, -1.9, -3.2, -3.9, -5.1];
        ResidualFunction line = (p, r) => { for (int i = 0; i < r.Length; i++) r[i] = y[i] - p[0] - p[1] * x[i]; };

        // Slope −1 is outside the box; with the slope at 0 the intercept is the mean.
        NonlinearFit bound = NonlinearFit.Minimise(line, x.Length, [0, 1], [-100, 0], [100, 10]);
        NonlinearFit held = NonlinearFit.Minimise(line, x.Length, [0, 0], [-100, 0], [100, 0]);

        Assert.Equal((0.0, 0.0), (bound.Parameters[1], held.Parameters[1]));
        Assert.Equal(y.Average(), bound.Parameters[0], 1e-9);
        Assert.Equal(y.Average(), held.Parameters[0], 1e-9);
        Assert.Equal((3, 4), (bound.DegreesOfFreedom, held.DegreesOfFreedom));
        // Straight line through five points 1 to 5: variances 1.1 and 0.1 of the unit variance; a mean: 1/5.
        Assert.Equal(1.1, bound.Cofactors![0, 0], 1e-6);
        Assert.Equal(0.1, bound.Cofactors[1, 1], 1e-6);
        Assert.Equal(0.2, held.Cofactors![0, 0], 1e-6);
        Assert.Equal(0, held.Cofactors[1, 1]);
    }

    [Fact]
    public void Parameters_that_the_observations_do_not_determine_have_no_covariance()
    {
        NonlinearFit fit = NonlinearFit.Minimise(
            (p, r) => { for (int i = 0; i < r.Length; i++) r[i] = 3 - p[0] - p[1]; }, 5, [0, 1]);

        Assert.Null(fit.Cofactors);
    }

    [Fact]
    public void A_start_without_finite_residuals_is_said_so()
    {
        NonlinearFit fit = NonlinearFit.Minimise((_, r) => r.Fill(double.NaN), 3, [1]);

        Assert.Equal(FitStop.NotFinite, fit.Stop);
    }

    private static NonlinearFit Fit(string dataset, double[] start)
    {
#pragma warning disable CA1308 // file names are lower case
        DataTable data = DataTable.Read($"nist_{dataset.ToLowerInvariant()}");
#pragma warning restore CA1308
        double[] x = data.Numbers("x");
        double[] y = data.Numbers("y");
        Curve curve = CurveOf(dataset);
        return NonlinearFit.Minimise((b, r) => { for (int i = 0; i < r.Length; i++) r[i] = y[i] - curve(b, x[i]); }, x.Length, start);
    }

    private static Curve CurveOf(string dataset) => dataset switch
    {
        "Misra1a" => (b, x) => b[0] * (1 - Math.Exp(-b[1] * x)),
        "Chwirut2" => (b, x) => Math.Exp(-b[0] * x) / (b[1] + b[2] * x),
        "Rat42" => (b, x) => b[0] / (1 + Math.Exp(b[1] - b[2] * x)),
        "MGH09" => (b, x) => b[0] * (x * x + b[1] * x) / (x * x + b[2] * x + b[3]),
        "Rat43" => (b, x) => b[0] / Math.Pow(1 + Math.Exp(b[1] - b[2] * x), 1 / b[3]),
        "Thurber" => (b, x) => (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6]))),
        _ => throw new ArgumentOutOfRangeException(nameof(dataset)),
    };

    private static double AgreeingDigits(double value, double certified) =>
        value == certified ? 15 : -Math.Log10(Math.Abs(value - certified) / Math.Abs(certified));
}
