namespace CardScan.Model.Tests;

public class NearNameTests
{
    private static readonly string[] Names = ["profile", "plan", "read", "score", "archive", "bench diode"];

    [Theory]
    [InlineData("reed", "read")]
    [InlineData("raed", "read")] // letters swapped: one slip (Damerau 1964)
    [InlineData("paln", "plan")]
    [InlineData("Plan", "plan")]
    [InlineData("arch", "archive")]
    [InlineData("bench doide", "bench diode")]
    [InlineData("r", null)]
    [InlineData("xyz", null)]
    [InlineData("frobnicate", null)]
    [InlineData("", null)]
    public void The_most_alike_name_is_found_and_no_other(string given, string? meant) => Assert.Equal(meant, NearName.Of(given, Names));

    [Fact]
    public void Where_there_are_no_names_none_was_meant() => Assert.Null(NearName.Of("plan", []));
}
