namespace CardScan.Reporting.Tests;

public sealed class NumbersTests
{
    [Theory]
    // The two examples of the rule: Review of Particle Physics, Introduction, "Rounding": 0.827 ± 0.119 is 0.83 ± 0.12, 0.827 ± 0.367 is 0.8 ± 0.4.
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
    public void A_page_stops_at_three_decimals_and_yet_never_shows_an_error_as_zero_that_is_there(double value, double error, string expected) =>
        Assert.Equal(expected, Numbers.WithError(new(value, error), 3).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(0, "0 %")]
    [InlineData(0.0004, "< 0.1 %")]
    [InlineData(0.006, "0.6 %")]
    [InlineData(0.5, "50 %")]
    [InlineData(0.97, "97 %")]
    [InlineData(0.978, "97.8 %")] // must not pass for the 98 % that a side needs
    [InlineData(0.9996, "> 99.9 %")]
    [InlineData(1, "100 %")]
    public void Percents_never_round_up_to_all_or_down_to_none(double share, string expected) =>
        Assert.Equal(expected, Numbers.Percent(share).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(1, 1, 1, "100 %")]
    [InlineData(0.951, 0.951, 0.951, "95.1 %")]
    [InlineData(0.949, 0.935, 0.959, "94.9 % (93.5 to 95.9)")]
    public void An_interval_narrower_than_the_last_place_is_not_printed(double value, double low, double high, string expected) =>
        Assert.Equal(expected, Numbers.PercentWithInterval(value, low, high).Replace('\u00a0', ' '));

    [Theory]
    [InlineData(0.1, "0.1")]
    [InlineData(1500, "1500")]
    [InlineData(-2, "−2")]
    [InlineData(47.25, "47.25")]
    public void Chosen_numbers_keep_their_digits(double value, string expected) => Assert.Equal(expected, Numbers.Chosen(value));

    [Theory]
    [InlineData(0.0399, 3, "0.0399")]
    [InlineData(12.345, 3, "12.3")]
    [InlineData(1234.5, 3, "1235")]
    [InlineData(0, 3, "0")]
    public void Doses_keep_three_significant_digits(double value, int digits, string expected) => Assert.Equal(expected, Numbers.Significant(value, digits));

    [Fact]
    public void A_printed_value_never_claims_more_than_its_error()
    {
        Assert.Equal("0.41", Numbers.Value(new(0.4123, 0.0061), 2));
        Assert.Equal("0.4", Numbers.Value(new(0.4123, 0.6), 2));
    }
}
