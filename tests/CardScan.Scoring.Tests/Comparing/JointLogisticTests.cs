using CardScan.Scoring.Comparing;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Comparing;

public sealed class JointLogisticTests
{
    // Budworm data of Collett 1991; R 4.2.2 glm: relative potency 2.048155, Fieller 1.318650 to 3.258041; parallelism
    // χ²(1) = 1.763337, p = 0.18421
    [Fact]
    public void Budworms_give_the_published_relative_potency_its_interval_and_its_test_of_parallelism()
    {
        DataTable data = DataTable.Read("budworm");
        string[] sex = data.Words("sex");
        double[] ldose = data.Numbers("log2_dose"), dead = data.Numbers("killed"), n = data.Numbers("n");
        JointLogistic fit = JointLogistic.Fit(
            new([.. ldose.Select(x => new[] { 1, x })], dead, n), [.. sex.Select(s => s == "F")], 1, [1], isPenalised: false)!;
        Fieller interval = fit.Interval(0.95)!;

        // Females are the later batch here: they need 2^log2 RP times the dose of the males.
        Assert.Equal(1.0343252336, fit.LnRatio, 1e-6);
        Assert.Equal(1.318650, Math.Pow(2, interval.Low), 1e-4);
        Assert.Equal(3.258041, Math.Pow(2, interval.High), 1e-4);
        Assert.Equal(1, fit.Heterogeneity);
        Assert.Equal(1.763337, fit.Shape!.Value.Statistic, 1e-5);
        Assert.Equal(0.18421, fit.Shape.Value.Probability, 1e-5);
    }
}
