using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Cutting;
using MathNet.Numerics.Distributions;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Cells that were held although they had energy enough.</summary>
public sealed class HeldAnywayTests
{
    // Three sides in a hundred held at any dose: a setting with energy enough is through with a true probability of 0.88.
    private static readonly Reading Floor = CutPattern.Read([37, 43, 49, 55, 61, 67, 73, 79, 85, 91],
        (160, "oooo oooo oooo oooo oooo oooo oooo oooo oooo .ooo"),
        (190, "oooo oooo oooo o.oo oooo oooo oooo oooo oooo oooo"),
        (230, "oooo oooo oooo oooo oooo oooo oooo ooo. oooo oooo"),
        (270, ".... oooo oooo oooo oooo oooo oo.. oooo oooo oooo"),
        (330, ".... .... oooo oooo oooo oooo oooo oooo oooo ooo."),
        (390, ".... .... .... oo.o oooo oooo oooo oooo oooo oooo"),
        (460, ".... .... .... .... .... .o.. oooo oooo oooo oooo"),
        (550, ".... .... .... .... .... .... oo.. oo.. oooo oooo"),
        (660, ".... .... .... .... .... .... .... .... .... o..."),
        (790, ".... .... .... .... .... .... .... .... .... ...."));

    [Fact]
    public void Failures_with_energy_enough_enter_what_is_stated_and_are_counted_in_words()
    {
        Reading scored = CardScorer.Score(Floor, ScoringOptions.Default);

        Recommendation cut = scored.Recommendations.Single(one => one.Goal == Goal.SureCut);
        Assert.InRange(cut.Interval!.Value, 0.82, 0.949);
        Assert.InRange(0.877, cut.Interval.Low, cut.Interval.High);
        // What cannot be called sure is stated by what can be counted on: the truth is 0.88.
        Assert.Equal(cut.Interval.Low, cut.Confidence);
        Assert.InRange(cut.Confidence!.Value, 0.7, 0.88);
        const string seen = " cells with enough energy were held all the same. On this card, more energy alone did not help. ";
        Assert.Contains(seen, cut.Reason, StringComparison.Ordinal);
        string least = Voice.Tell(Share(cut.Interval.Low)), best = Voice.Tell(Share(cut.Interval.Value));
        string stated = $"Count on at least {least} of such cuts to come free; the best estimate is {best} [";
        Assert.Contains(stated, cut.Reason, StringComparison.Ordinal);
        Assert.True(Reading.IsUnsureCut(cut));
        Assert.All(cut.Reasons.Where(reason => reason.Code == Codes.SureCutMargin),
            margin => Assert.Equal(1 - cut.Interval.Value, Assert.IsType<Number>(margin.Values!["risk"]).Value, 1e-3));
        double held = scored.Model!.Diagnostics["cellsHeldAnyway"], enough = scored.Model.Diagnostics["cellsWithEnergyEnough"];
        Assert.InRange(held, 3, 6);
        Advice told = scored.Advice.Single(advice => advice.Code == Codes.HeldAnyway);
        Assert.Contains($"{held} of the {enough} cells with enough energy were held all the same", told.Message, StringComparison.Ordinal);
        Judgement judgement = Judgement.Of(scored);
        Assert.Equal(Usability.WithCare, judgement.Usability);
        Assert.Equal("held-anyway", judgement.Advice!.Code);
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(0.8)]
    [InlineData(0.9)]
    [InlineData(0.95)]
    public void A_cut_is_called_sure_by_its_reason_only_where_it_has_the_name_of_a_sure_cut(double asked)
    {
        Reading scored = CardScorer.Score(Floor, ScoringOptions.Default with { CutConfidence = asked });
        Recommendation cut = scored.Recommendations.Single(one => one.Goal == Goal.SureCut);
        Assert.True(Reading.IsUnsureCut(cut));
        Assert.DoesNotContain("reliably", cut.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Neighbours_are_one_cause_and_leave_a_wider_interval()
    {
        Estimate apart = FailureRate.NoneNext(4, 60), together = FailureRate.NoneNext(1, 15);

        Assert.Equal(apart.Value, together.Value, 0.04);
        Assert.True(together.Low < apart.Low);
        CutCard patch = Held((2, 2), (2, 3), (3, 2), (3, 3)), scattered = Held((1, 1), (1, 5), (4, 2), (5, 5));
        Assert.True(NoneOf(patch).Low < NoneOf(scattered).Low);

        static Estimate NoneOf(CutCard card) => HeldAnyway.On(card, CutModel.Fit(card)!, slow: null).None;
    }

    /// <summary>Against the sum over a fine grid of rates: prior times binomial likelihood.</summary>
    [Theory]
    [InlineData(0, 5)]
    [InlineData(0, 40)]
    [InlineData(1, 18)]
    [InlineData(5, 45)]
    public void The_next_cell_is_what_both_kinds_of_material_say_weighed_by_the_card(int failures, int trials)
    {
        double sum = 0, weights = 0;
        const int Steps = 200_000;
        for (int i = 0; i < Steps; i++)
        {
            double rate = (i + 0.5) / Steps;
            double weight = (0.8 * Beta.PDF(0.3, 59.7, rate) + 0.2 * Beta.PDF(1, 8, rate))
                * Math.Pow(rate, failures) * Math.Pow(1 - rate, trials - failures);
            sum += weight * (1 - rate);
            weights += weight;
        }

        // A density that is infinite at 0 is summed to about a thousandth.
        Assert.Equal(sum / weights, FailureRate.NoneNext(failures, trials).Value, 2e-3);
    }

    [Fact]
    public void Where_failures_get_rarer_with_more_energy_those_near_a_setting_speak()
    {
        CutCell[] cells = [.. Enumerable.Range(0, 40).Select(i => Cell(i, 50 * Math.Exp(0.05 * i), isThrough: i is not (1 or 4)))];
        HeldAnyway anyway = new([cells[1], cells[4]], [.. cells]);

        Assert.True(anyway.NoneAt(cells[2]).Value < anyway.None.Value - 0.03);
        Assert.Equal(anyway.None, anyway.NoneAt(cells[39]));

        static CutCell Cell(int i, double power, bool isThrough)
        {
            CutSide side = new(CutDirection.AlongX, isThrough, isThrough ? 1 : 0, 1) { FastVote = isThrough ? 1 : 0 };
            return new(new(2 * (i / 5), 2 * (i % 5)), new CellSettings { PowerPercent = power, SpeedMmPerMin = 200 },
                [side, side, side, side], HaloMm: null);
        }
    }

    [Fact]
    public void Held_cells_at_the_top_count_here_too_where_chance_may_have_held_just_these()
    {
        Reading reading = new SimulatedCut { PowerExponent = 40 }.Read(1);
        CutCard card = CutCard.Of(reading.WithHeld(cell => (cell.Row, cell.Column) == (0, 6)));
        Assert.True(card.ClosesAgain);

        Assert.Single(HeldOn(card with { IsEndDoubtful = true }));
        Assert.Empty(HeldOn(card with { IsEndDoubtful = false }));

        static ValueList<CutCell> HeldOn(CutCard card) => HeldAnyway.On(card, CutModel.Fit(card)!, SlowEnd.Of(card)).Held;
    }

    [Fact]
    public void A_clean_card_states_a_little_less_than_certain()
    {
        Assert.InRange(FailureRate.NoneNext(0, 45).Value, 0.99, 0.9995);
        Assert.InRange(FailureRate.NoneNext(0, 3).Value, 0.97, 0.99);
        Assert.Equal("98.8 % [92, 99.9]", Voice.Tell(CutMessages.Chance(new(0.988, 0.92, 1))));
    }

    private static CutCard Held(params (int Row, int Column)[] held)
    {
        Reading reading = new SimulatedCut
        {
            PowerExponent = 60,
            PowersPercent = [40, 50, 60, 70, 80, 85, 90, 100],
            SpeedsMmPerMin = [60, 70, 80, 90, 100, 110, 120, 450]
        }.Read(1);
        return CutCard.Of(reading.WithHeld(cell => held.Contains((cell.Row, cell.Column))));
    }
}
