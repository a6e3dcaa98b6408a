using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

public sealed class EstimateTests
{
    /// <summary>
    /// Mean of a logistic of a normal variable: D. J. C. MacKay, Neural Computation 4 (1992) 720–736, eq. 10, good to
    /// about 0.01 (named from memory).
    /// </summary>
    [Theory]
    [InlineData(0, 1)]
    [InlineData(2, 1)]
    [InlineData(-2, 1.5)]
    [InlineData(4, 1)]
    public void A_probability_known_within_limits_is_averaged_over_them(double middle, double deviation)
    {
        double expected = Logistic(middle / Math.Sqrt(1 + Math.PI * deviation * deviation / 8));

        Estimate estimate =
            Estimate.OfProbability(Logistic(middle), Logistic(middle - 1.96 * deviation), Logistic(middle + 1.96 * deviation));

        Assert.Equal(expected, estimate.Value, 0.01);
    }

    [Fact]
    public void Nothing_that_is_known_only_within_limits_is_certain()
    {
        Assert.Equal(0.9, Estimate.OfProbability(0.9, 0.9, 0.9).Value, 1e-9);
        Assert.InRange(Estimate.OfProbability(1, 0.95, 1).Value, 0.95, 0.999);
        Assert.InRange(Estimate.OfProbability(0.999, 0.95, 1).Value, 0.98, 0.9985);
    }

    /// <summary>Errors of a product add by their squares (JCGM 100:2008, 5.1.6): 0.02 and 0.015 of about one are 0.025.</summary>
    [Fact]
    public void Two_independent_things_lack_together_what_their_squares_say()
    {
        Estimate both = new Estimate(0.999, 0.979, 1).And(new(0.999, 0.984, 0.9999));

        Assert.Equal(0.998, both.Value, 1e-4);
        Assert.Equal(both.Value - 0.025, both.Low, 1e-4);
        Assert.Equal(0.9999, both.High, 1e-9);
    }

    [Theory]
    [InlineData(0.97, 0.91, 0.97)]
    [InlineData(0.97, 0.89, 0.89)]
    [InlineData(0.94, 0.92, 0.92)]
    public void What_is_not_sure_is_stated_by_what_can_be_counted_on(double value, double low, double stated) =>
        Assert.Equal(stated, CutScorer.StatedOf(new(value, low, 0.999), 0.95));

    private static double Logistic(double x) => 1 / (1 + Math.Exp(-x));
}
