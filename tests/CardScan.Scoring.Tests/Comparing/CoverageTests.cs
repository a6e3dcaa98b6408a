using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

/// <summary>
/// How often the stated 95 % interval of the relative dose holds the true one; the figures stand in
/// docs/method/comparing.md.
/// </summary>
public sealed class CoverageTests
{
    private const int Pairs = 100;

    /// <summary>Some two standard deviations of chance below 95 % of a hundred.</summary>
    private const double LeastCovered = 0.9;

    [Theory]
    [InlineData(1.12, 0.00, 6, 5)]
    [InlineData(1.12, 0.03, 6, 5)]
    [InlineData(0.85, 0.03, 6, 5)]
    [InlineData(1.12, 0.05, 5, 4)]
    [InlineData(1.30, 0.05, 8, 8)]
    public void Intervals_of_engraved_cards_hold_the_true_ratio_and_shapes_are_seldom_called_different(double ratio, double chance,
        int columns, int rows)
    {
        SimulatedCard card = new()
        {
            StrengthChance = chance,
            PowersPercent = [.. Enumerable.Range(0, columns).Select(i => 20 + 75.0 * i / (columns - 1))],
            SpeedsMmPerMin = [.. Enumerable.Range(0, rows).Select(i => 1000 * Math.Pow(5, (double)i / (rows - 1)))],
        };
        SimulatedCard later = card with { ThresholdDose = ratio * card.ThresholdDose, ScaleDose = ratio * card.ScaleDose };
        (int covered, int otherShape, int known) = Count(ratio, seed => card.Read(seed), seed => later.Read(seed));

        Assert.InRange(otherShape, 0, 0.1 * Pairs);
        Assert.InRange(covered, LeastCovered * known, known);
    }

    [Theory]
    [InlineData(1.12, 18)]
    [InlineData(1.12, 40)]
    [InlineData(0.90, 25)]
    public void Intervals_of_cut_cards_hold_the_true_ratio(double ratio, double steepness)
    {
        SimulatedCut cut = new() { PowerExponent = steepness };
        SimulatedCut later = cut with { HalfwayPowerAt260 = ratio * cut.HalfwayPowerAt260 };
        (int covered, int otherShape, int known) = Count(ratio, seed => cut.Read(seed), seed => later.Read(seed));

        Assert.InRange(otherShape, 0, 0.1 * Pairs);
        Assert.InRange(covered, LeastCovered * known, known);
    }

    private static (int Covered, int OtherShape, int Known) Count(double ratio, Func<int, Reading> first, Func<int, Reading> later)
    {
        int covered = 0, otherShape = 0, known = 0;
        for (int i = 0; i < Pairs; i++)
        {
            PairEstimate estimate = first(2 * i) is { Plan.Process: Process.Cut } cut
                ? CutPair.Estimate(cut, later(2 * i + 1), 0.05)
                : EngravedPair.Estimate(first(2 * i), later(2 * i + 1), 0.05);
            if (estimate.Shape is { AreAlike: false } && estimate.Dose is null) otherShape++;
            if (estimate.Dose is not { } dose) continue;
            known++;
            if (dose.Low <= Math.Log(ratio) && Math.Log(ratio) <= dose.High) covered++;
        }

        Assert.InRange(known, 0.5 * Pairs, Pairs);
        return (covered, otherShape, known);
    }
}
