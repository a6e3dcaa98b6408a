using CardScan.Model;
using CardScan.Scoring.History;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Tests.History;

/// <summary>The energy that a card needed, by cards whose law is known.</summary>
public sealed class CardNeedTests
{
    private const int Runs = 60;

    [Theory]
    [InlineData(0.9)]
    [InlineData(1.1)]
    public void Half_of_the_strongest_mark_is_found_with_its_error(double speedExponent)
    {
        SimulatedCard card = new() { SpeedExponent = speedExponent, StrengthChance = 0.03 };
        double half = card.Strongest / 2;
        double truth = Math.Log(card.ThresholdDose + card.ScaleDose * Math.Pow(-Math.Log(1 - half / card.Plateau), 1 / card.Shape));

        EnergyNeed[] needs = [.. Enumerable.Range(0, Runs).Select(seed => CardNeed.Of(card.Read(seed)).Need!.At(card.ReferenceSpeed))];

        IsTrue(truth, needs);
        Assert.All(needs, need => Assert.InRange(need.SpeedExponent, speedExponent - 0.1, speedExponent + 0.1));
    }

    [Fact]
    public void The_cut_that_opens_every_other_time_is_found_with_its_error()
    {
        SimulatedCut cut = new();
        double watts = cut.Read(0).Plan.Machine.RatedOpticalWatts;
        double truth = Math.Log(cut.HalfwayPower(260, isAlongY: true) / 100 * watts * 60 / 260);

        EnergyNeed[] needs = [.. Enumerable.Range(0, Runs).Select(seed => CardNeed.Of(cut.Read(seed)).Need!.At(260))];

        IsTrue(truth, needs);
    }

    [Fact]
    public void A_card_that_does_not_show_its_half_tells_nothing()
    {
        SimulatedCard strong = new() { PowersPercent = [85, 90, 95], SpeedsMmPerMin = [200, 250, 300] };
        SimulatedCut through = new() { HalfwayPowerAt260 = 5 };

        Assert.Null(CardNeed.Of(strong.Read(1)).Need);
        Assert.Null(CardNeed.Of(through.Read(1)).Need);
        Assert.Null(CardNeed.Of(new SimulatedCard().Read(1) with { Cells = [] }).Need);
    }

    /// <summary>On average right to a hundredth, and 95 % within 1.96 stated errors (of 60, at least 51: probability 0.9999).</summary>
    private static void IsTrue(double lnTruth, EnergyNeed[] needs)
    {
        Assert.Equal(lnTruth, needs.Select(need => need.LnEnergy).Mean(), 0.02);
        int within = needs.Count(need => Math.Abs(need.LnEnergy - lnTruth) < 1.96 * need.StandardError);
        Assert.True(within >= 51, $"{within} of {needs.Length}; {needs.Average(need => need.StandardError)}");
    }
}
