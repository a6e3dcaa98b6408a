using CardScan.Scoring.Carrying;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>The random-effects model against published worked examples.</summary>
public sealed class ShiftPosteriorTests
{
    /// <summary>D. B. Rubin, J. Educ. Stat. 6 (1981) 377–401; effects and standard errors of coaching in eight schools.</summary>
    private static readonly (double Shift, double Variance)[] Schools =
        [.. new[] { (28.0, 15), (8, 10), (-3, 16), (7, 11), (-1, 9), (1, 11), (18, 10), (12, 18) }
            .Select(school => (school.Item1, (double)(school.Item2 * school.Item2)))];

    /// <summary>
    /// G. A. Colditz et al., JAMA 271 (1994) 698–702: ln of the risk ratios of 13 trials of a vaccine with their variances, as the
    /// R package metafor has them (dat.bcg).
    /// </summary>
    private static readonly (double Shift, double Variance)[] Trials =
    [
        (-0.8893, 0.3256), (-1.5854, 0.1946), (-1.3481, 0.4154), (-1.4416, 0.0200), (-0.2175, 0.0512), (-0.7861, 0.0069),
        (-1.6209, 0.2230), (0.0120, 0.0040), (-0.4694, 0.0564), (-1.3713, 0.0730), (-0.3394, 0.0124), (0.4459, 0.5325), (-0.0173, 0.0714),
    ];

    /// <summary>Means and standard errors given τ: A. Gelman et al., Bayesian Data Analysis, section 5.5, recomputed with R.</summary>
    [Theory]
    [InlineData(5, 7.8510, 4.4921)]
    [InlineData(10, 8.1265, 5.5200)]
    public void Eight_schools_given_their_spread(double tau, double mean, double error)
    {
        PooledShift pooled = PooledShift.Of(Schools, tau);
        Assert.Equal(mean, pooled.Mean, 1e-3);
        Assert.Equal(error, Math.Sqrt(pooled.Variance), 1e-3);
    }

    /// <summary>Every point estimate of the spread is 0 here. With flat priors: mean 7.93 (7.9 in the book), E τ 6.58.</summary>
    [Fact]
    public void Eight_schools_do_not_collapse_although_the_likeliest_spread_is_none()
    {
        ShiftPosterior posterior = new(Schools, Enumerable.Range(0, 4000).Select(i => (i + 0.5) / 4000 * 100), _ => 0);
        PooledShift none = PooledShift.Of(Schools, 0);

        Assert.Equal(7.6856, none.Mean, 1e-3);
        Assert.Equal(4.0719, Math.Sqrt(none.Variance), 1e-3);
        Assert.All([1, 3, 10, 30], tau => Assert.True(PooledShift.Of(Schools, tau).LnLikelihood < none.LnLikelihood));
        Assert.Equal(7.93, posterior.Mean((_, pooled) => pooled.Mean), 0.02);
        Assert.Equal(6.58, posterior.Mean((tau, _) => tau), 0.05);
        // A further school: wider than all of them alike would have it.
        Assert.InRange(posterior.Below(none.Mean - 1.96 * Math.Sqrt(none.Variance)), 0.08, 0.4);
    }

    /// <summary>metafor, REML: τ² 0.3132, mean −0.7145, standard error 0.1798, prediction interval −1.8667 to 0.4376.</summary>
    [Fact]
    public void Thirteen_trials_given_their_spread()
    {
        double tau = Math.Sqrt(0.3132);
        PooledShift pooled = PooledShift.Of(Trials, tau);
        ShiftPosterior posterior = new(Trials, [tau], _ => 0);

        Assert.Equal(-0.7145, pooled.Mean, 2e-4);
        Assert.Equal(0.1798, Math.Sqrt(pooled.Variance), 2e-4);
        Assert.Equal(0.025, posterior.Below(-1.8667), 2e-4);
        Assert.Equal(0.975, posterior.Below(0.4376), 2e-4);
    }

    [Fact]
    public void A_shift_of_all_moves_the_mean_and_nothing_else()
    {
        PooledShift before = PooledShift.Of(Trials, 0.3),
            after = PooledShift.Of([.. Trials.Select(each => (each.Shift + 2, each.Variance))], 0.3);
        Assert.Equal(before.Mean + 2, after.Mean, 1e-12);
        Assert.Equal((before.Variance, before.LnLikelihood), (after.Variance, after.LnLikelihood), (x, y) =>
            Math.Abs(x.Item1 - y.Item1) < 1e-12 && Math.Abs(x.Item2 - y.Item2) < 1e-9);
    }
}
