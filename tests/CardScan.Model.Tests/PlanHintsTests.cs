namespace CardScan.Model.Tests;

/// <summary>Focus for cutting about half the thickness below the surface, for engraving on it: common practice, no source.</summary>
public class PlanHintsTests
{
    [Theory]
    [InlineData(Process.Cut, 3.0, -1.5, false)]
    [InlineData(Process.Cut, 3.0, -1.0, false)]
    [InlineData(Process.Cut, 3.0, 0.0, true)]
    [InlineData(Process.Cut, 0.8, 0.0, false)] // thin board: the surface is near enough
    [InlineData(Process.Cut, null, 0.0, false)] // nobody knows where half of it is
    [InlineData(Process.Engrave, 3.0, 0.0, false)]
    [InlineData(Process.Engrave, 3.0, -2.0, true)]
    public void A_focus_far_from_the_usual_place_gets_a_hint(Process process, double? thicknessMm, double focusMm, bool isHinted)
    {
        Plan plan = Fixed(process, thicknessMm, focusMm);

        Assert.Equal(isHinted ? ["focus-unusual"] : [], PlanHints.Of(plan).Select(hint => hint.Code));
    }

    [Fact]
    public void The_hint_names_where_the_focus_is_and_where_it_usually_is()
    {
        string message = Assert.Single(PlanHints.Of(Fixed(Process.Cut, 6, 0))).Message;

        Assert.Contains("6 mm with the focus on the surface", message);
        Assert.Contains("3 mm, below", message);
    }

    [Fact]
    public void A_focus_axis_needs_no_hint()
    {
        Plan plan = Fixed(Process.Cut, 6, 0);

        Assert.Empty(PlanHints.Of(plan with { Columns = new() { Setting = Setting.FocusOffsetMm, Values = [0, 1] } }));
    }

    private static Plan Fixed(Process process, double? thicknessMm, double focusMm) => Samples.Plan with
    {
        Process = process,
        Material = Samples.Plan.Material with { ThicknessMm = thicknessMm },
        Fixed = Samples.Plan.Fixed with { FocusOffsetMm = focusMm },
    };
}
