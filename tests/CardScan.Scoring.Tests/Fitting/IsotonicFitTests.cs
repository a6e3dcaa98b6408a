using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Fitting;

public sealed class IsotonicFitTests
{
    // A, B: R 4.2.2 isoreg. C, D weighted: equal to a general constrained minimum (Data/README.md).
    [Theory]
    [InlineData("A", 9)]
    [InlineData("B", 10)]
    [InlineData("C", 10)]
    [InlineData("D", 10)]
    public void The_worked_examples_are_reproduced(string example, int count)
    {
        DataTable data = DataTable.Read("isotonic_examples").Where("example", example);

        double[] fit = IsotonicFit.Rising(data.Numbers("y"), data.Numbers("w"));

        Assert.Equal(count, fit.Length);
        double[] expected = data.Numbers("isotonic_fit");
        for (int i = 0; i < count; i++) Assert.Equal(expected[i], fit[i], 1e-9);
    }

    [Fact]
    public void A_value_without_weight_takes_a_neighbours_level()
    {
        double[] fit = IsotonicFit.Rising([1, 99, 2], [1, 0, 1]);

        Assert.Equal([1.0, 2.0], [fit[0], fit[2]]);
        Assert.InRange(fit[1], 1, 2);
    }

    [Fact]
    public void A_table_is_pooled_where_it_falls_in_either_direction()
    {
        double[,] fit = IsotonicFit.RisingBothWays(new double[,] { { 1, 4 }, { 5, 2 } }, new double[,] { { 1, 1 }, { 1, 1 } });

        // 4 and 5 both lie over 2: all three are pooled to 11/3.
        Assert.Equal(1, fit[0, 0], 1e-9);
        Assert.Equal(11.0 / 3, fit[0, 1], 1e-9);
        Assert.Equal(11.0 / 3, fit[1, 0], 1e-9);
        Assert.Equal(11.0 / 3, fit[1, 1], 1e-9);
    }

    [Fact]
    public void A_table_that_rises_both_ways_is_left_alone()
    {
        double[,] fit = IsotonicFit.RisingBothWays(new double[,] { { 1, 2 }, { 1.5, 3 } }, new double[,] { { 1, 2 }, { 3, 4 } });

        Assert.Equal(1.5, fit[1, 0], 1e-12);
        Assert.Equal(3, fit[1, 1], 1e-12);
    }

    [Fact]
    public void A_peak_is_kept_and_both_flanks_are_made_monotone()
    {
        (double[] fit, int peak) = IsotonicFit.RisingThenFalling([1, 3, 2, 6, 5, 4, 4.5], [1, 1, 1, 1, 1, 1, 1]);

        Assert.Equal([1, 2.5, 2.5, 6, 5, 4.25, 4.25], fit);
        Assert.Equal(3, peak);
    }

    [Fact]
    public void A_rising_sequence_has_its_peak_at_the_end()
    {
        (double[] fit, int peak) = IsotonicFit.RisingThenFalling([1, 2, 3], [1, 1, 1]);

        Assert.Equal([1.0, 2, 3], fit);
        Assert.Equal(2, peak);
    }
}
