using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Sides held by short bridges although their dose was enough.</summary>
public sealed class BridgesTests
{
    private const int Cards = 100;

    private static readonly SimulatedCut Bridged = new() { BridgeShare = 0.1 };

    [Fact]
    public void Bridges_do_not_pass_for_a_lack_of_dose()
    {
        int boundary = 0, drawn = 0, exponents = 0, given = 0, missed = 0;
        for (int seed = 1; seed <= Cards; seed++)
        {
            Reading scored = CardScorer.Score(Bridged.Read(seed), ScoringOptions.Default);
            foreach (BoundaryPoint point in scored.Boundary ?? [])
            {
                double truth = Bridged.HalfwayPower(point.SpeedMmPerMin, isAlongY: true);
                drawn++;
                if (truth >= point.Low && truth <= point.High) boundary++;
            }

            Measured exponent = scored.Model!.Parameters["powerExponent"];
            if (Math.Abs(exponent.Value - Bridged.PowerExponent) <= 1.96 * exponent.StandardError) exponents++;
            if (scored.Recommendations.FirstOrDefault(one => one.Goal == Goal.SureCut) is not { } sure) continue;
            given++;
            if (Bridged.AllOpen(sure.PowerPercent, sure.SpeedMmPerMin) < ScoringOptions.Default.CutConfidence) missed++;
        }

        // As failures of dose, bridges leave 32 sure cuts and 4 exponents. Those near the limit still count as such.
        Assert.InRange(given, 90, Cards);
        Assert.InRange(missed, 0, 5);
        Assert.InRange(exponents, 70, Cards);
        Assert.InRange(boundary / (double)drawn, 0.87, 1);
    }

    [Fact]
    public void Stated_probabilities_count_the_bridges_and_hold_the_truth()
    {
        int given = 0, held = 0;
        for (int seed = 1; seed <= Cards; seed++)
        {
            Reading scored = CardScorer.Score(Bridged.Read(seed), ScoringOptions.Default);
            if (scored.Recommendations.FirstOrDefault(one => one.Goal == Goal.SureCut) is not { Interval: { } through } sure) continue;
            double truth = Bridged.AllOpen(sure.PowerPercent, sure.SpeedMmPerMin) * Math.Pow(1 - Bridged.BridgeShare, 4);
            given++;
            if (truth >= through.Low && truth <= through.High) held++;
        }

        Assert.InRange(given, 90, Cards);
        Assert.InRange(held / (double)given, 0.91, 1);
    }

    [Fact]
    public void An_advice_counts_the_bridges_and_the_reason_states_what_they_cost()
    {
        Reading scored = CardScorer.Score(Bridged.Read(1), ScoringOptions.Default);

        (double bridged, double sides) = (scored.Model!.Diagnostics["sidesBridged"], scored.Model.Diagnostics["sidesWithDoseEnough"]);
        Advice advice = scored.Advice.Single(one => one.Code == "bridged-sides");
        Assert.Contains($"{bridged} of the {sides} sides with enough energy", advice.Message, StringComparison.Ordinal);
        Assert.Contains("(up to 0.64 mm)", advice.Message, StringComparison.Ordinal);
        Recommendation sure = scored.Recommendations.Single(one => one.Goal == Goal.SureCut);
        Assert.Contains($"A short bridge held {bridged} of the {sides} sides", sure.Reason, StringComparison.Ordinal);
        Assert.StartsWith("Fastest tested setting with enough energy: ", sure.Reason, StringComparison.Ordinal);
        Assert.True(scored.IsHeldByBridges(sure));
        Assert.False(scored.IsHeldByBridges(sure with { Confidence = 0.96 }));
        Assert.InRange(sure.Interval!.Value, 0.9 * Math.Pow(1 - bridged / sides, 4), Math.Pow(1 - bridged / sides, 4));
    }

    [Fact]
    public void A_card_without_bridges_is_scored_as_ever()
    {
        Reading reading = new SimulatedCut().Read(1);
        CutCard card = CutCard.Of(reading);

        Assert.Same(card, Bridges.MarkedOn(card));
        Assert.Equal(new(1, 1, 1), Bridges.On(card).NoneOnFourSides);
        Reading scored = CardScorer.Score(reading, ScoringOptions.Default);
        Assert.False(scored.Model!.Diagnostics.ContainsKey("sidesBridged"));
        Assert.DoesNotContain(scored.Advice, advice => advice.Code == "bridged-sides");
    }

    [Fact]
    // 10 of 100: 4.90 to 17.62 %, the textbook example of Clopper and Pearson's interval (from memory; recomputed from binomial tails).
    public void The_rate_of_bridges_has_its_exact_interval()
    {
        Estimate none = new Bridges(10, 100).NoneOnFourSides;

        Assert.Equal(0.9, Math.Pow(none.Value, 0.25), 1e-12);
        Assert.Equal(1 - 0.1762, Math.Pow(none.Low, 0.25), 5e-5);
        Assert.Equal(1 - 0.0490, Math.Pow(none.High, 0.25), 5e-5);
    }
}
