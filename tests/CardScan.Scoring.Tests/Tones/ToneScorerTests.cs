using CardScan.Model;
using CardScan.Scoring.Tones;

namespace CardScan.Scoring.Tests.Tones;

public sealed class ToneScorerTests
{
    private static readonly SimulatedCard Card = new() { PowersPercent = [5, 10, 20, 30, 40, 55, 70, 85], DarknessError = 0.003 };

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Steps_of_a_known_law_are_equal_in_lightness(bool isLighter)
    {
        SimulatedCard card = Card with { IsLighter = isLighter };
        for (int seed = 1; seed <= 10; seed++)
        {
            ToneScale tones = Tones(card.Read(seed), new(6, AtSpeedMmPerMin: 2200))!;

            Assert.Equal(6, tones.Steps.Count);
            double[] truth = [.. tones.Steps.Select(step => TrueLightness(card, step))];
            double even = (truth[^1] - truth[0]) / 5;
            Assert.All(truth.Zip(truth.Skip(1)), pair => Assert.Equal(1, (pair.Second - pair.First) / even, 0.15));
            Assert.All(tones.Steps, step => Assert.Equal(TrueLightness(card, step), step.Lightness, 1.5));
            Assert.All(tones.Steps, step => Assert.Equal(2200, step.SpeedMmPerMin));
        }
    }

    [Fact]
    public void Speed_makes_the_tones_where_a_power_is_held()
    {
        ToneScale tones = Tones(Card.Read(3), new(5, AtPowerPercent: 55))!;

        Assert.Equal(Setting.SpeedMmPerMin, tones.Setting);
        Assert.Equal(tones.Steps.OrderByDescending(step => step.SpeedMmPerMin), tones.Steps);
        Assert.All(tones.Steps, step => Assert.Equal(TrueLightness(Card, step), step.Lightness, 1.5));
    }

    [Fact]
    public void Tones_stay_inside_the_cards_range_and_their_intervals_hold_the_truth()
    {
        int held = 0, all = 0;
        for (int seed = 1; seed <= 40; seed++)
        {
            SimulatedCard card = Card with { StrengthChance = 0.02 };
            ToneScale tones = Tones(card.Read(seed), new(4))!;
            Assert.All(tones.Steps, step => Assert.InRange(step.PowerPercent, 5, 85));
            held += tones.Steps.Count(step => TrueLightness(card, step) >= step.Low && TrueLightness(card, step) <= step.High);
            all += tones.Steps.Count;
        }

        // The intervals are those of an area burned anew, so they hold the law's own tone more often than 95 % of the time.
        Assert.InRange(held / (double)all, 0.95, 1);
    }

    [Fact]
    public void Without_a_law_the_lines_own_cells_carry_the_tones()
    {
        Reading scored = CardScorer.Score(Card.Read(2), ScoringOptions.Default) with { Model = null };

        ToneScale tones = ToneScorer.AddTo(scored, new(4, AtSpeedMmPerMin: 2200)).Tones!;

        Assert.Equal(4, tones.Steps.Count);
        Assert.All(tones.Steps, step => Assert.Equal(TrueLightness(Card, step), step.Lightness, 3.0));
    }

    [Fact]
    public void Past_the_strongest_mark_there_are_no_tones()
    {
        SimulatedCard card = Card with { SpeedsMmPerMin = [2200] };
        Reading reading = card.Read(4);
        // The two strongest settings burn the coat off again.
        Reading weakening = reading with
        {
            Cells = reading.Cells.Select((cell, i) => i < 6 ? cell : cell with { Darkness = new(0.25, 0.003) }).ToValueList()
        };

        ToneScale tones = Tones(weakening, new(3))!;

        Assert.All(tones.Steps, step => Assert.InRange(step.PowerPercent, 5, 55));
    }

    [Fact]
    public void Tones_that_chance_would_mix_up_are_not_given()
    {
        Reading scored = CardScorer.Score((Card with { StrengthChance = 0.08 }).Read(5), new() { Tones = new(40, AtSpeedMmPerMin: 2200) });

        Assert.InRange(scored.Tones!.Steps.Count, 2, 39);
        Assert.Equal(40, scored.Tones.StepsAsked);
        Advice advice = Assert.Single(scored.Advice, advice => advice.Code == "fewer-tones");
        Assert.Contains($"Only {scored.Tones.Steps.Count} tones can be told apart", advice.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2300)]
    [InlineData(1e5)]
    public void A_speed_that_was_not_burned_gives_words_that_name_those_that_were(double speed)
    {
        Reading scored = CardScorer.Score(Card.Read(1), new() { Tones = new(5, AtSpeedMmPerMin: speed) });

        Assert.Null(scored.Tones);
        Assert.Contains("1000, 1500, 2200, 3300, 5000 mm/min", Assert.Single(scored.Advice, advice => advice.Code == "no-tones").Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Cut_blank_and_saturated_cards_give_words()
    {
        Reading[] cards =
        [
            new SimulatedCut().Read(1),
            (Card with { ThresholdDose = 50 }).Read(1),
            (Card with { ScaleDose = 0.001, ThresholdDose = 0 }).Read(1),
            Card.Read(1) with { Cells = [] },
        ];

        foreach (Reading card in cards)
        {
            Reading scored = CardScorer.Score(card, new() { Tones = new(5) });
            Assert.True(scored.Tones is null == scored.Advice.Any(advice => advice.Code == "no-tones"));
            Assert.True(scored.Tones is null || scored.Tones.Steps.Count == 2);
        }
    }

    [Fact]
    public void Tones_are_given_only_when_asked_for_and_survive_the_file()
    {
        Reading with = CardScorer.Score(Card.Read(1), new() { Tones = new(5) });
        Reading back =
            CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(with with { Plan = Readable(with.Plan) }))).Value;

        Assert.Equal(with.Tones, back.Tones);
        Assert.Null(CardScorer.Score(with, ScoringOptions.Default).Tones);
    }

    [Fact]
    public void A_request_that_makes_no_sense_is_the_programmers_fault()
    {
        foreach (ToneRequest request in (ToneRequest[])[new(1), new(65), new(5, 1000, 50)])
            Assert.Throws<ArgumentOutOfRangeException>(() => CardScorer.Score(Card.Read(1), new() { Tones = request }));
    }

    private static ToneScale? Tones(Reading reading, ToneRequest request) => CardScorer.Score(reading, new() { Tones = request }).Tones;

    private static double TrueLightness(SimulatedCard card, ToneStep step)
    {
        double strength = card.Strength(step.PowerPercent, step.SpeedMmPerMin);
        return CieLightness.Of(card.IsLighter ? 1 + strength : 1 - strength);
    }

    private static Plan Readable(Plan plan) => plan with
    {
        Fiducials = plan.Fiducials with
        {
            Markers =
            [
                new() { Id = 28, XMm = 1, YMm = 1 }, new() { Id = 29, XMm = plan.Card.WidthMm - 11, YMm = 1 },
                new() { Id = 30, XMm = plan.Card.WidthMm - 11, YMm = plan.Card.HeightMm - 11 },
                new() { Id = 31, XMm = 1, YMm = plan.Card.HeightMm - 11 },
            ],
        },
    };
}
