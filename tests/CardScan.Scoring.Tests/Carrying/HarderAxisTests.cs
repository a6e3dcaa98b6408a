using CardScan.Model;
using CardScan.Scoring.Carrying;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>Cuts by machines whose beams are wide along different axes.</summary>
public sealed class HarderAxisTests
{
    private const int Runs = 40;

    /// <summary>
    /// The truth is the halfway power along the harder axis, of the later card over the first. Of 40, at least 33 hold it (probability
    /// 0.9994 were each 95 %); by the common curve of both axes, fewer.
    /// </summary>
    [Theory]
    [InlineData(1.35, 1.0, 1.10)] // the new beam is round
    [InlineData(1.35, 1.7, 1.10)] // wider still along the same axis
    [InlineData(1.25, 0.8, 0.90)] // and along the other one
    [InlineData(1.12, 1.12, 1.10)] // alike
    public void The_factor_along_the_harder_axis_is_found(double oldRatio, double newRatio, double alongX)
    {
        SimulatedCut old = new() { DoseRatio = oldRatio },
            now = new() { DoseRatio = newRatio, HalfwayPowerAt260 = old.HalfwayPowerAt260 * alongX };
        double truth = alongX * Math.Max(1, newRatio) / oldRatio;
        int held = 0, common = 0;
        for (int seed = 0; seed < Runs; seed++)
        {
            Reading first = CardScorer.Score(old.Read(seed), new()), later = CardScorer.Score(now.Read(1000 + seed), new());
            if (Holds(HarderAxis.Compare(first, later), truth)) held++;
            if (Holds(CardComparer.Compare([new("first", first), new("later", later)], new()).Value.Pairs[0].RelativeDose, truth)) common++;
        }

        Assert.True(held >= 33, $"{held} of {Runs}");
        Assert.True(oldRatio == newRatio || common < 33, $"{common} of {Runs}");
    }

    [Fact]
    public void Cards_that_do_not_tell_their_axes_apart_tell_nothing() =>
        Assert.Null(HarderAxis.Compare(new SimulatedCut().Read(1), new SimulatedCut().Read(2)));

    private static bool Holds(RelativeDose? dose, double value) => dose is not null && value > dose.Low && value < dose.High;
}
