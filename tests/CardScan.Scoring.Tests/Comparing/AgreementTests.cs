using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

public sealed class AgreementTests
{
    [Fact] // J. M. Bland, D. G. Altman, Lancet 1986; i:307–310; limits with the factor 1.96 computed with R 4.2.2
    public void Limits_of_agreement_and_their_intervals_are_those_of_the_peak_flow_meters()
    {
        DataTable data = DataTable.Read("bland_altman_pefr");
        Agreement agreement =
            AgreementLimits.Of([.. data.Numbers("Wright_1").Zip(data.Numbers("Mini_1"), (wright, mini) => wright - mini)], "flow")!;

        Assert.Equal(17, agreement.Cells);
        Assert.Equal(38.7651298736, agreement.StandardDeviation, 1e-8);
        IsClose(-2.1176470588, -22.048838, 17.813544, agreement.Bias);
        IsClose(-78.097302, -112.619136, -43.575467, agreement.LowerLimit);
        IsClose(73.862007, 39.340173, 108.383842, agreement.UpperLimit);
    }

    [Fact]
    public void Two_differences_have_no_limits() => Assert.Null(AgreementLimits.Of([1, 2], "flow"));

    [Fact] // P. E. Shrout, J. L. Fleiss, Psychol. Bull. 86 (1979) 420–428; intervals computed with psych 2.2.9
    public void Intraclass_correlations_are_those_of_Shrout_and_Fleiss()
    {
        DataTable data = DataTable.Read("shrout_fleiss1979");
        IntraclassCorrelation icc = new([.. data.Rows.Select(row => row[1..].Select(double.Parse).ToArray())]);

        Assert.Equal(11.2416666667, icc.TargetMeanSquare, 1e-9);
        Assert.Equal(32.4861111111, icc.JudgeMeanSquare, 1e-9);
        Assert.Equal(1.0194444444, icc.ErrorMeanSquare, 1e-9);
        Assert.Equal(6.2638888889, icc.WithinMeanSquare, 1e-9);
        IsClose(0.16574177, -0.13293233, 0.72256006, icc.Single());
        IsClose(0.28976378, 0.01878651, 0.76108437, icc.Agreement());
    }

    [Fact]
    public void Measurements_that_agree_to_the_last_digit_have_a_correlation_of_one_and_finite_limits()
    {
        IntraclassCorrelation icc = new([[0.1, 0.1], [0.5, 0.5], [0.9, 0.9]]);

        Assert.Equal(1, icc.Single().Value, 1e-9);
        Assert.Equal(1, icc.Agreement().Low, 1e-9);
        Assert.True(double.IsFinite(icc.Agreement().High) && double.IsFinite(icc.Single().High));
    }

    [Theory] // Student 1908, sleep data, difference −1.58; two one-sided tests computed with R 4.2.2 t.test (Welch, then paired)
    [InlineData(0.4946466179, -4.2162735529, 17.7764735162, 0.3134536260)]
    [InlineData(1.6723766607, -5.3940035956, 17.7764735162, 0.0559789145)]
    [InlineData(1.0798060931, -9.2040614598, 9, 0.1541572357)]
    [InlineData(3.6507729813, -11.7750283480, 9, 0.0026555703)]
    public void Two_one_sided_tests_are_those_of_the_sleep_data(double aboveLower, double aboveUpper, double freedom, double probability) =>
        Assert.Equal(probability, TwoOneSidedTests.Probability(aboveLower, aboveUpper, freedom), 1e-8);

    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, example of an individuals chart (from memory): 50.81,
    // limits 45.8159 and 55.8041
    [Fact]
    public void An_individuals_chart_has_the_limits_of_the_handbook()
    {
        IndividualsChart chart = IndividualsChart.Of([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);

        Assert.Equal(50.81, chart.Centre, 1e-9);
        Assert.Equal(45.8159, chart.Lower, 1e-3);
        Assert.Equal(55.8041, chart.Upper, 1e-3);
    }

    [Theory]
    [InlineData(1, 1.0, 1.1, 1.2, 1.3, 1.4, 1.5)]
    [InlineData(-1, 9.0, 1.5, 1.4, 1.3, 1.2, 1.1, 1.0)]
    [InlineData(0, 1.0, 1.1, 1.2, 1.15, 1.4, 1.5)]
    [InlineData(0, 1.0, 1.1, 1.2, 1.3, 1.4)]
    public void Six_in_one_direction_are_a_trend(int direction, params double[] values) =>
        Assert.Equal(direction, IndividualsChart.TrendOf(values));

    [Fact] // by the definition in S. Holm, Scand. J. Statist. 6 (1979) 65–70; the same as R's p.adjust
    public void Holms_adjustment_keeps_order_and_never_falls() =>
        Assert.Equal([0.06, 0.04, 0.06, 0.06], Holm.Adjust([0.03, 0.01, 0.02, 0.04]).Select(p => Math.Round(p, 12)));

    private static void IsClose(double value, double low, double high, Interval interval)
    {
        Assert.Equal(value, interval.Value, 1e-6);
        Assert.Equal(low, interval.Low, 2e-6);
        Assert.Equal(high, interval.High, 2e-6);
    }
}
