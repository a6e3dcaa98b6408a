using CardScan.Scoring.History;

namespace CardScan.Scoring.Tests.History;

/// <summary>The running mean against worked examples of quality control.</summary>
public sealed class RunningMeanTests
{
    // D. C. Montgomery, Introduction to Statistical Quality Control, table 9.1 and example 9.2: target 10, σ 1, λ 0.1, L 2.7.
    private static readonly double[] Montgomery =
    [
        9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40, 10.08,
        9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29, 11.50, 10.60, 11.08, 10.38, 11.62, 11.31, 10.52,
    ];

    // NIST/SEMATECH e-Handbook, 6.3.2.4: target 50, σ 2.0539, λ 0.3, L 3.
    private static readonly double[] Handbook =
    [
        52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
    ];

    private static readonly double[] HandbookMeans =
    [
        50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
        50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
    ];

    [Fact]
    public void Means_and_exact_limits_are_those_of_the_textbook()
    {
        (double Ln, double Limit)[] means = MeansOf(Montgomery, 10, 1, 0.1, 2.7);

        Assert.Equal([9.945, 9.7495, 9.70355], means.Take(3).Select(mean => Math.Round(10 + mean.Ln, 5)));
        Assert.Equal([10.57314, 10.64682, 10.63414], means.Skip(27).Select(mean => Math.Round(10 + mean.Ln, 5)));
        Assert.Equal(0.27, means[0].Limit, 1e-9);
        Assert.Equal(10.6189, 10 + means[29].Limit, 1e-4);
        Assert.Equal([28, 29], means.Index().Where(each => Math.Abs(each.Item.Ln) > each.Item.Limit).Select(each => each.Index));
    }

    [Fact]
    public void Means_are_those_of_the_handbook_whose_limits_are_those_that_the_exact_ones_come_to()
    {
        (double Ln, double Limit)[] means = MeansOf(Handbook, 50, 2.0539, 0.3, 3);

        Assert.Equal(HandbookMeans, means.Select(mean => Math.Round(50 + mean.Ln, 2)));
        Assert.Equal(52.5884, 50 + means[^1].Limit, 5e-3);
        Assert.All(means, mean => Assert.InRange(mean.Ln, -mean.Limit, mean.Limit));
    }

    [Fact]
    public void Cards_that_are_held_against_few_others_may_lie_farther_off()
    {
        NeedSpread spread = new(0.1, 0);
        RunningMean few = new(), many = new();
        double wide = 0, narrow = 0;
        for (int i = 0; i < 10; i++)
        {
            wide = few.Add(new(new(0, 0), "birch", 2), spread).Limit;
            narrow = many.Add(new(new(0, 0), "birch", 1_000_000), spread).Limit;
        }

        // Var z = σ² λ / (2 − λ) (1 − (1 − λ)^2t) + σ² / n · (1 − (1 − λ)^t)², the sums of the weights' squares and of the weights.
        double own = 0.01 / 9 * (1 - Math.Pow(0.8, 20)), shared = 0.01 / 2 * Math.Pow(1 - Math.Pow(0.8, 10), 2);
        Assert.Equal(RunningMean.UsualWidth * Math.Sqrt(own), narrow, 1e-6);
        Assert.Equal(RunningMean.UsualWidth * Math.Sqrt(own + shared), wide, 1e-9);
    }

    private static (double Ln, double Limit)[] MeansOf(double[] values, double target, double deviation, double weight, double width)
    {
        RunningMean mean = new(weight, width);
        NeedSpread spread = new(deviation, 0);
        return [.. values.Select(value => mean.Add(new(new(value - target, 0), "flow", int.MaxValue), spread))];
    }
}
