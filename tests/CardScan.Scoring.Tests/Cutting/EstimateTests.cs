using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

public sealed class EstimateTests
{
    /// <summary>Mean of a logistic of a normal variable: D. J. C. MacKay, Neural Computation 4 (1992) 720–736, eq. 10, good to about 0.01 (named from memory).</summary>
    [Theory]
    [InlineData(0, 1)]
    [InlineData(2, 1)]
    [InlineData(-2, 1.5)]
    [InlineData(4, 1)]
    public void A_probability_known_within_limits_is_averaged_over_them(double middle, double deviation)
    {
        double expected = Logistic(middle / Math.Sqrt(1 + Math.PI * deviation * deviation / 8));

        Estimate estimate = Estimate.OfProbability(Logistic(middle), Logistic(middle - 1.96 * deviation), Logistic(middle + 1.96 * deviation));

        Assert.Equal(expected, estimate.Value, 0.01);
    }

    [Fact]
    public void Nothing_that_is_known_only_within_limits_is_certain()
    {
        Assert.Equal(0.9, Estimate.OfProbability(0.9, 0.9, 0.9).Value, 1e-9);
        Assert.InRange(Estimate.OfProbability(1, 0.95, 1).Value, 0.95, 0.999);
        Assert.InRange(Estimate.OfProbability(0.999, 0.95, 1).Value, 0.98, 0.9985);
    }

    private static double Logistic(double x) => 1 / (1 + Math.Exp(-x));
}
