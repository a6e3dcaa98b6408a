namespace CardScan.Model.Tests;

public class NameTests
{
    [Theory]
    [InlineData("Birch plywood", " birch PLYWOOD ", true)]
    [InlineData("Äpfelholz", "äpfelholz", true)]
    [InlineData(null, "", true)]
    [InlineData(null, "  ", true)]
    [InlineData("birch", null, false)]
    [InlineData("birch ply", "birch  ply", false)]
    public void Capitals_and_spaces_at_the_ends_tell_no_names_apart(string? name, string? other, bool areSame) =>
        Assert.Equal((areSame, areSame), (MakerName.AreSame(name, other), MakerName.AreSame(other, name)));

    [Fact]
    public void A_value_has_the_name_that_stands_in_files()
    {
        Assert.Equal(("engrave", "powerPercent", "followsSpeed"),
            (EnumName.Of(Process.Engrave), EnumName.Of(Setting.PowerPercent), EnumName.Of(BeamMode.FollowsSpeed)));
        Assert.Equal(("closed", null), (EnumName.Of((SideState?)SideState.Closed), EnumName.Of((SideState?)null)));
    }
}
