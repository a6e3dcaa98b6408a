using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Carrying;

/// <summary>
/// What shifts of known error tell of the shift of a further one: the normal random-effects model, its spread τ integrated over a grid.
/// </summary>
/// <remarks>
/// dᵢ ~ N(μ + uᵢ, vᵢ), uᵢ ~ N(0, τ²), μ ~ N(0, m) or flat. Given τ, everything is closed; its posterior is that of the grid's values.
/// A τ that is estimated instead is often exactly 0, which is no knowledge that all shift alike: D. B. Rubin, "Estimation in Parallel
/// Randomized Experiments", J. Educ. Stat. 6 (1981) 377–401; A. Gelman et al., Bayesian Data Analysis, chapter 5.
/// docs/method/carrying.md.
/// </remarks>
internal sealed class ShiftPosterior
{
    private readonly (double Tau, double Weight, PooledShift Pooled)[] _grid;

    /// <param name="shifts">The shifts with their variances; one or more where μ is flat.</param>
    /// <param name="taus">The values that τ is tried at, above 0, evenly apart.</param>
    /// <param name="lnPrior">ln of their prior, up to a constant.</param>
    /// <param name="meanVariance">m; infinite for a flat μ.</param>
    public ShiftPosterior(IReadOnlyList<(double Shift, double Variance)> shifts, IEnumerable<double> taus, Func<double, double> lnPrior,
        double meanVariance = double.PositiveInfinity)
    {
        (double Tau, double Ln, PooledShift Pooled)[] tried = [.. taus.Select(tau =>
        {
            PooledShift pooled = PooledShift.Of(shifts, tau, meanVariance);
            return (tau, lnPrior(tau) + pooled.LnLikelihood, pooled);
        })];
        double most = tried.Max(each => each.Ln), sum = tried.Sum(each => Math.Exp(each.Ln - most));
        _grid = [.. tried.Select(each => (each.Tau, Math.Exp(each.Ln - most) / sum, each.Pooled))];
    }

    /// <summary>Expectation of what follows from each τ.</summary>
    public double Mean(Func<double, PooledShift, double> of) => _grid.Sum(each => each.Weight * of(each.Tau, each.Pooled));

    /// <summary>Probability that the shift of a further one, or what is measured of it, lies below a value.</summary>
    /// <param name="shift">The value.</param>
    /// <param name="spread">Factor of τ, for one that may be odd.</param>
    /// <param name="variance">Of its measurement; 0 for the shift itself.</param>
    public double Below(double shift, double spread = 1, double variance = 0) => Mean((tau, pooled) =>
        Normal.CDF(pooled.Mean, Math.Sqrt(spread * spread * tau * tau + pooled.Variance + variance), shift));
}

/// <summary>The common shift, given τ.</summary>
/// <param name="Mean">μ̂ = Σ wᵢ dᵢ / (Σ wᵢ + 1/m) with wᵢ = 1 / (vᵢ + τ²).</param>
/// <param name="Variance">1 / (Σ wᵢ + 1/m).</param>
/// <param name="LnLikelihood">ln of the likelihood of τ, μ integrated out, up to a constant.</param>
internal sealed record PooledShift(double Mean, double Variance, double LnLikelihood)
{
    public static PooledShift Of(
        IReadOnlyList<(double Shift, double Variance)> shifts, double tau, double meanVariance = double.PositiveInfinity)
    {
        double[] weights = [.. shifts.Select(each => 1 / (each.Variance + tau * tau))];
        double sum = weights.Sum() + 1 / meanVariance, mean = shifts.Select((each, i) => weights[i] * each.Shift).Sum() / sum;
        double squares = shifts.Select((each, i) => weights[i] * Math.Pow(each.Shift - mean, 2)).Sum() + mean * mean / meanVariance;
        return new(mean, 1 / sum, 0.5 * (weights.Sum(Math.Log) - Math.Log(sum) - squares));
    }
}
