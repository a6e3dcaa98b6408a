using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>
/// How often stated 95 % intervals hold the truth, over simulated cards; the long table is in
/// docs/method/cut-scoring.md.
/// </summary>
public sealed class CutCoverageTests
{
    private const int Cards = 150;

    [Fact]
    public void Intervals_of_exponents_boundary_and_probability_hold_the_truth_as_often_as_they_say()
    {
        SimulatedCut card = new();
        int exponents = 0, boundary = 0, drawn = 0, probability = 0;
        CutPoint[] points = [.. from speed in new[] { 200.0, 260, 340 }
                                from power in new[] { 65.0, 80, 95 }
                                select new CutPoint(Math.Log(power), Math.Log(speed), 0, 0)];
        for (int seed = 1; seed <= Cards; seed++)
        {
            Reading reading = card.Read(seed);
            CutModel model = CutModel.Fit(CutCard.Of(reading))!;
            if (Holds(model.PowerExponent!, card.PowerExponent)) exponents++;
            if (Holds(model.SpeedExponent!, card.PowerExponent * card.SpeedOverPower)) exponents++;
            foreach (double speed in card.SpeedsMmPerMin)
            {
                if (model.HalfwayPower(new(0, Math.Log(speed), 0, 0)) is not { } halfway) continue;
                drawn++;
                if (Holds(halfway, card.HalfwayPower(speed, isAlongY: true))) boundary++;
            }

            probability += points.Count(point =>
            {
                double truth = card.AllOpen(Math.Exp(point.LnPower), Math.Exp(point.LnSpeed));
                return truth >= model.ThroughLimit(point, isUpper: false) && truth <= model.ThroughLimit(point, isUpper: true);
            });
        }

        // Figures of one card hang together: 150 cards leave two standard errors of about 3 %.
        Assert.InRange(exponents / (2.0 * Cards), 0.91, 0.99);
        Assert.InRange(boundary / (double)drawn, 0.91, 0.99);
        // The interval of a probability is for the next piece, which differs from this one; these are read on one and the same.
        Assert.InRange(probability / (double)(Cards * points.Length), 0.95, 1);
        Assert.True(drawn > 4.5 * Cards);
    }

    private static bool Holds(Estimate estimate, double truth) => truth >= estimate.Low && truth <= estimate.High;
}
