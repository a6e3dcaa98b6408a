namespace CardScan.Reporting.Tests;

public sealed class NumbersTests
{
    [Theory]
    // The two examples of the rule: Review of Particle Physics, Introduction, "Rounding": 0.827 ± 0.119 is 0.83 ± 0.12,
    // 0.827 ± 0.367 is 0.8 ± 0.4.
    [InlineData(0.827, 0.119, "0.83 ± 0.12")]
    [InlineData(0.827, 0.367, "0.8 ± 0.4")]
    [InlineData(0.41234, 0.0099, "0.412 ± 0.010")] // 950–999 becomes 1000 and keeps two digits
    [InlineData(-0.83456, 0.0061, "−0.835 ± 0.006")]
    [InlineData(-0.0001, 0.0061, "0.000 ± 0.006")] // no "−0"
    [InlineData(54.92, 12.4, "55 ± 12")]
    public void Values_are_rounded_to_their_standard_error(double value, double error, string expected) =>
        Assert.Equal(expected, Numbers.WithError(new(value, error)).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(-0.95495, 0.0025, "−0.955 ± 0.003")]
    [InlineData(-0.95495, 0.00025, "−0.955 ± < 0.001")]
    [InlineData(1.25, 0, "1.250 ± 0.000")]
    public void A_page_stops_at_three_decimals_and_yet_never_shows_an_error_as_zero_that_is_there(
        double value, double error, string expected) =>
        Assert.Equal(expected, Numbers.WithError(new(value, error), 3).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(0.1234, 2, "+0.12")]
    [InlineData(-0.1234, 2, "−0.12")]
    [InlineData(0.004, 2, "0.00")] // what is printed as zero has no sign
    [InlineData(-0.004, 2, "0.00")]
    public void Differences_carry_their_sign(double value, int decimals, string expected) =>
        Assert.Equal(expected, Numbers.WithSign(value, decimals));

    [Theory]
    [InlineData(0.1, 6, 0.1)]
    [InlineData(2.0999999999999996, 6, 2.1)]
    [InlineData(1234567.8, 6, 1234570)]
    public void Rounding_keeps_significant_digits(double value, int digits, double expected) =>
        Assert.Equal(expected, Numbers.Rounded(value, digits));

    [Fact]
    public void A_printed_value_never_claims_more_than_its_error()
    {
        Assert.Equal("0.41", Numbers.Value(new(0.4123, 0.0061), 2));
        Assert.Equal("0.4", Numbers.Value(new(0.4123, 0.6), 2));
    }
}
