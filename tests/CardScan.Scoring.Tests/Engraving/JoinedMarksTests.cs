using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

public sealed class JoinedMarksTests
{
    private static readonly SimulatedCard Wide = new() { StrengthChance = 0.02 };

    // About the limit of the full mark: what a second card is burned for.
    private static readonly SimulatedCard Finer = Wide with { PowersPercent = [40, 55, 70, 85], SpeedsMmPerMin = [1300, 1800, 2500, 3400] };

    [Fact]
    public void Two_cards_have_one_strongest_mark_and_know_the_limit_about_as_well_as_one_of_them()
    {
        double alone = 0, together = 0;
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading first = Wide.Read(seed), second = Numbered(Finer.Read(100 + seed), 8);
            Reading joined = CardScorer.Score(second, [first], ScoringOptions.Default);

            JoinedCard card = Assert.Single(joined.Joined!);
            Assert.Equal((7, 30), (card.Number, card.CellsUsed));
            // The strongest cell stands on the first card; the second alone ends below it.
            Assert.Equal(Wide.Strongest, joined.Model!.Parameters["strongestMark"].Value, 0.05);
            Assert.InRange(card.DoseFactor!.Value, 0.93, 1.07);
            alone += HalfWidth(CardScorer.Score(first, ScoringOptions.Default), 2200);
            together += HalfWidth(CardScorer.Score(first, [second], ScoringOptions.Default), 2200);
        }

        // What cards differ by is part of a limit that is to hold for the next one, too: it may cost what the further cells gain.
        Assert.True(together < 1.1 * alone, $"{together} against {alone}");
    }

    [Fact]
    public void A_setting_on_an_earlier_card_names_it_and_brings_its_cell()
    {
        // The newest card is too weak for a full mark of its own.
        Reading weak = Numbered((Wide with { PowersPercent = [10, 15, 20, 25], SpeedsMmPerMin = [3300, 4000, 5000] }).Read(3), 9);
        Reading joined = CardScorer.Score(weak, [Wide.Read(4)], ScoringOptions.Default);

        Recommendation fastest = Assert.Single(joined.Recommendations, r => r.Goal == Goal.FastestFullMark);
        Assert.Equal(7, fastest.Card);
        Assert.Equal((fastest.PowerPercent, fastest.SpeedMmPerMin),
            (fastest.EarlierCell!.Settings.PowerPercent, fastest.EarlierCell.Settings.SpeedMmPerMin));
        Assert.Contains("on card 7", fastest.Reason, StringComparison.Ordinal);
        Assert.True(Wide.Share(fastest.PowerPercent, fastest.SpeedMmPerMin) >= 0.93);
    }

    [Fact]
    public void A_card_that_got_a_third_less_energy_is_said_and_not_averaged()
    {
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading own = Wide.Read(seed),
                weaker = Numbered(
                    (Wide with { ScaleDose = 1.5 * Wide.ScaleDose, ThresholdDose = 1.5 * Wide.ThresholdDose }).Read(50 + seed), 8);
            Reading joined = CardScorer.Score(own, [weaker], ScoringOptions.Default);

            Assert.Contains("card 8 came out", Assert.Single(joined.Advice, advice => advice.Code == "cards-disagree").Message,
                StringComparison.Ordinal);
            Assert.Equal(CardScorer.Score(own, ScoringOptions.Default).Recommendations, joined.Recommendations);
        }
    }

    /// <summary>Cards burned alike: one in a hundred may be called unlike.</summary>
    [Fact]
    public void Cards_burned_alike_agree()
    {
        int unlike = 0;
        for (int seed = 1; seed <= 30; seed++)
            unlike += CardScorer.Score(Wide.Read(seed), [Numbered(Finer.Read(200 + seed), 8)], ScoringOptions.Default).Advice
                .Count(advice => advice.Code == "cards-disagree");
        Assert.InRange(unlike, 0, 2);
    }

    private static Reading Numbered(Reading reading, int number) => reading with { Plan = reading.Plan with { Number = number } };

    private static double HalfWidth(Reading reading, double speed)
    {
        BoundaryPoint point = reading.Boundary!.MinBy(each => Math.Abs(each.SpeedMmPerMin - speed))!;
        return Math.Log(point.High / point.Low) / 2;
    }
}
