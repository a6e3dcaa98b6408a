using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Fitting;

public sealed class LogisticFitTests
{
    [Fact]
    // Heinze, Schemper, Stat. Med. 21 (2002) 2409–2419 print 2.93 (1.55), −0.03 (0.04), −2.60 (0.78); the digits here are
    // those of brglm2 0.9 (AS_mean), intervals those of logistf 1.26.1.
    public void The_separated_endometrial_data_get_the_published_penalised_estimates_and_profile_limits()
    {
        LogisticFit fit = LogisticFit.Fit(Table("endometrial", ["NV", "PI", "EH"], "HG", null));

        double[] estimates = [3.7745597136, 2.9292733532, -0.0347517599, -2.6041639253];
        double[] errors = [1.4886916634, 1.5507637295, 0.0395781473, 0.7760176425];
        double[] low = [1.0825371, 0.6097244, -0.1244587, -4.3651832];
        double[] high = [7.2092805, 7.8546317, 0.0404555, -1.2327211];
        Assert.True(fit.HasConverged);
        Assert.Equal(-24.0372678007, fit.LogLikelihood, 1e-8);
        for (int j = 0; j < 4; j++)
        {
            Assert.Equal(estimates[j], fit.Coefficients[j], 1e-7);
            Assert.Equal(errors[j], Math.Sqrt(fit.Covariance![j, j]), 1e-6);
            Assert.Equal(low[j], fit.ProfileLimit(j, isUpper: false)!.Value, 2e-5);
            Assert.Equal(high[j], fit.ProfileLimit(j, isUpper: true)!.Value, 2e-5);
        }

        // Penalised likelihood-ratio tests, logistf 1.26.1.
        Assert.Equal(6.798457249, fit.LossAt(1, 0), 1e-6);
        Assert.Equal(17.759317479, fit.LossAt(3, 0), 1e-6);
    }

    [Fact]
    public void Without_the_penalty_the_separated_estimate_runs_away_and_is_said_so()
    {
        LogisticFit fit = LogisticFit.Fit(Table("endometrial", ["NV", "PI", "EH"], "HG", null), isPenalised: false);

        Assert.False(fit.HasConverged);
    }

    [Fact]
    // Bliss 1935, R 4.2.2 glm(binomial): slope 34.27033. Endometrial data: NV separates (Heinze and Schemper 2002).
    public void Another_penalty_is_reached_from_a_fit_and_none_where_the_data_separate()
    {
        LogisticFit beetles = LogisticFit.Fit(Table("bliss1935_beetle", ["log10_dose_mg_per_l"], "killed", "n"));
        LogisticFit endometrial = LogisticFit.Fit(Table("endometrial", ["NV", "PI", "EH"], "HG", null));

        Assert.Equal(34.2703257, beetles.WithPenalty(0)!.Coefficients[1], 1e-6);
        Assert.InRange(beetles.WithPenalty(0.2)!.Coefficients[1], beetles.Coefficients[1], 34.2703257);
        Assert.Null(endometrial.WithPenalty(0));
        Assert.True(endometrial.WithPenalty(0.2)!.Coefficients[1] > endometrial.Coefficients[1]);
    }

    [Fact]
    // Data and example of the R package logistf 1.26.1 (Foxman et al. 1997), equal to its own example's estimates.
    public void Grouped_quasi_separated_data_are_reproduced()
    {
        LogisticFit fit = LogisticFit.Fit(Table("sex2_aggregated", ["age", "oc", "vic", "vicl", "vis", "dia"], "cases", "n"));

        double[] estimates = [0.1202540491, -1.1059813314, -0.0688167271, 2.2688746522, -2.1114081853, -0.7883169514, 3.0960118274];
        double[] errors = [0.48554151, 0.42366013, 0.44379345, 0.54841596, 0.54308235, 0.41736757, 1.67500841];
        for (int j = 0; j < estimates.Length; j++)
        {
            Assert.Equal(estimates[j], fit.Coefficients[j], 1e-7);
            Assert.Equal(errors[j], Math.Sqrt(fit.Covariance![j, j]), 1e-6);
        }

        Assert.Equal(-132.539379533, fit.LogLikelihood, 1e-7);
        Assert.Equal(0.7745682, fit.ProfileLimit(6, isUpper: false)!.Value, 1e-5);
        Assert.Equal(8.0302935, fit.ProfileLimit(6, isUpper: true)!.Value, 1e-5);
    }

    [Fact]
    // C. I. Bliss 1935; R 4.2.2 glm(binomial): -60.71745 (5.18071), 34.27033 (2.91214); confint slope 28.8540–40.3007;
    // LD50 59.1182, Fieller 58.0575–60.1451 (g 0.0277).
    public void The_beetle_data_give_the_textbook_logit_line_and_median_dose_with_its_Fieller_limits()
    {
        LogisticFit fit = LogisticFit.Fit(Table("bliss1935_beetle", ["log10_dose_mg_per_l"], "killed", "n"), isPenalised: false);

        Assert.True(fit.HasConverged);
        Assert.Equal(-60.7174546, fit.Coefficients[0], 1e-6);
        Assert.Equal(34.2703257, fit.Coefficients[1], 1e-6);
        Assert.Equal(5.1807115, Math.Sqrt(fit.Covariance![0, 0]), 1e-5);
        Assert.Equal(2.9121401, Math.Sqrt(fit.Covariance[1, 1]), 1e-5);
        Assert.Equal(28.8540, fit.ProfileLimit(1, isUpper: false)!.Value, 1e-3);
        Assert.Equal(40.3007, fit.ProfileLimit(1, isUpper: true)!.Value, 1e-3);

        Fieller dose = Fieller.Of(
            -fit.Coefficients[0], fit.Coefficients[1], fit.Covariance[0, 0], -fit.Covariance[0, 1], fit.Covariance[1, 1],
            1.959963984540054)!;
        Assert.Equal(59.1182, Math.Pow(10, dose.Value), 1e-3);
        Assert.Equal(58.0575, Math.Pow(10, dose.Low), 1e-3);
        Assert.Equal(60.1451, Math.Pow(10, dose.High), 1e-3);
    }

    [Fact]
    // Toy of complete separation, computed with brglm2 0.9: slope 1.03274439 (0.67266478), profile 0.134140563 to 5.74649614.
    public void Complete_separation_gives_a_finite_slope_and_the_middle_as_threshold()
    {
        double[] x = [1, 2, 3, 4, 5, 6, 7, 8];
        LogisticData data = new([.. x.Select(value => new[] { 1, value })], [0, 0, 0, 0, 1, 1, 1, 1], [.. x.Select(_ => 1.0)]);

        LogisticFit fit = LogisticFit.Fit(data);

        Assert.Equal(1.03274439, fit.Coefficients[1], 1e-7);
        Assert.Equal(4.5, -fit.Coefficients[0] / fit.Coefficients[1], 1e-8);
        Assert.Equal(0.134140563, fit.ProfileLimit(1, isUpper: false)!.Value, 1e-6);
        Assert.Equal(5.74649614, fit.ProfileLimit(1, isUpper: true)!.Value, 1e-5);
    }

    [Fact]
    public void A_ratio_whose_denominator_may_be_zero_has_no_interval() => Assert.Null(Fieller.Of(1, 0.5, 0.1, 0, 0.1, 1.96));

    private static LogisticData Table(string name, string[] columns, string successes, string? trials)
    {
        DataTable table = DataTable.Read(name);
        double[][] values = [.. columns.Select(table.Numbers)];
        double[] y = table.Numbers(successes);
        return new(
            [.. Enumerable.Range(0, y.Length).Select(i => new[] { 1.0 }.Concat(values.Select(column => column[i])).ToArray())],
            y, trials is null ? [.. y.Select(_ => 1.0)] : table.Numbers(trials));
    }
}
