namespace CardScan.Reporting.Tests;

public sealed class TypesettingTests
{
    [Theory]
    [InlineData("between -3 and -2.5 mm", "between −3 and −2.5\u00a0mm")]
    [InlineData("-12.5%.", "−12.5%.")]
    [InlineData("(-1)", "(−1)")]
    [InlineData("-3.jpg", "-3.jpg")]
    [InlineData("the photo -07a", "the photo -07a")]
    [InlineData("--top 3", "--top 3")]
    [InlineData("IMG-12", "IMG-12")]
    public void A_number_gets_a_true_minus_and_a_file_keeps_its_name(string text, string typeset) =>
        Assert.Equal(typeset, Markup.Typeset(text));
}
