using CardScan.Language;

namespace CardScan.Model.Tests;

public class FrameReadingTests
{
    private static readonly FrameReading Frame =
        new() { OffsetXMm = -1.25, OffsetYMm = 0.3, TurnDeg = 0.42, Scale = 1.001, EdgeRmsMm = 0.046 };

    [Fact]
    public void It_is_told_where_the_grid_lies_and_that_the_greys_were_not_used() =>
        Assert.Equal(
            "The grid lies 1.25 mm to the left of its planned place and 0.3 mm below it, turned by 0.4° in the window. "
                + "Its edges fit to within 0.046 mm. The greys could not be used.",
            Voice.Tell(Frame.ToFigure()));

    [Fact]
    public void It_is_told_what_the_greys_undid() =>
        Assert.EndsWith(
            "to within 0.02 in density; density 1 looked like 0.87.",
            Voice.Tell((Frame with { GreyRms = 0.021, DensityOneSeenAs = 0.868 }).ToFigure()),
            StringComparison.Ordinal);
}
