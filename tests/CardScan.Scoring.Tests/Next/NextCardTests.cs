using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Scoring.Tests.Next;

public sealed class NextCardTests
{
    private static readonly NextCardOptions Options = new();

    [Fact]
    // Common practice, no source: coated aluminium at one power and speeds 1 : 2 : 2.5 without a visible difference is saturated.
    public void Saturated_coated_aluminium_goes_faster_and_to_less_power()
    {
        Reading card = new SimulatedCard
        {
            PowersPercent = [80],
            SpeedsMmPerMin = [1000, 2000, 2500],
            IsLighter = true,
            Plateau = 2.2,
            ScaleDose = 0.2,
            ThresholdDose = 0
        }.Read(3);

        NextRanges next = NextCard.Plan(card, Options).Value;

        Assert.Equal("next-less-dose", Assert.Single(next.Notes).Code);
        Assert.Equal(2500, next.SpeedsMmPerMin[0]);
        Assert.InRange(next.SpeedsMmPerMin[^1], 5000, 7000);
        Assert.InRange(next.PowersPercent[0], 40, 60);
        Assert.Equal(80, next.PowersPercent[^1]);
    }

    [Fact]
    public void A_card_that_is_burned_past_its_best_all_over_goes_faster_and_weaker()
    {
        Reading card = new SimulatedCard().Read(1);
        card = card with
        {
            Cells = card.Cells.Select(cell => cell with
            {
                Darkness = new(0.8 * Math.Pow(cell.Settings.PowerPercent / cell.Settings.SpeedMmPerMin / 0.004, -0.6), 0.01)
            }).ToValueList()
        };

        NextRanges next = NextCard.Plan(card, Options).Value;

        Assert.Equal("next-less-dose", Assert.Single(next.Notes).Code);
        Assert.StartsWith("The mark is weaker with more energy all over this card", next.Notes[0].Message, StringComparison.Ordinal);
        Assert.True(next.SpeedsMmPerMin[0] >= 0.8 * 5000 && next.SpeedsMmPerMin[^1] > 2 * 5000);
    }

    [Fact]
    public void A_machine_that_is_at_its_fastest_lowers_the_power_instead()
    {
        Reading card = new SimulatedCut { HalfwayPowerAt260 = 1 }.Read(1);

        NextRanges free = NextCard.Plan(card, Options).Value;
        NextRanges limited = NextCard.Plan(card, Options with { FastestMmPerMin = 460 }).Value;

        Assert.True(free.SpeedsMmPerMin[^1] > 1000);
        Assert.All(limited.SpeedsMmPerMin, speed => Assert.InRange(speed, 10, 460));
        Assert.True(limited.PowersPercent[0] < 0.6 * free.PowersPercent[0]);
    }

    [Fact]
    public void Nothing_through_raises_the_power_and_at_full_power_slows_down_and_at_the_slowest_adds_a_pass()
    {
        SimulatedCut held = new() { HalfwayPowerAt260 = 1000 };

        NextRanges weak = NextCard.Plan((held with { PowersPercent = [20, 30, 40] }).Read(1), Options).Value;
        NextRanges full = NextCard.Plan(held.Read(1), Options).Value;
        NextRanges slowest = NextCard.Plan(held.Read(1), Options with { SlowestMmPerMin = 140 }).Value;

        Assert.Equal(100, weak.PowersPercent[^1]);
        Assert.Equal(100, full.PowersPercent[^1]);
        Assert.InRange(full.SpeedsMmPerMin[0], 10, 100);
        Assert.Equal(1, full.About.Passes);
        Assert.Equal("next-more-passes", Assert.Single(slowest.Notes).Code);
        Assert.Equal(2, slowest.About.Passes);
        Assert.All(slowest.SpeedsMmPerMin, speed => Assert.True(speed >= 140));
    }

    [Fact]
    public void A_mark_that_still_grows_gets_more_dose()
    {
        SimulatedCard card = new() { ScaleDose = 5, PowersPercent = [20, 40, 60, 80, 100], SpeedsMmPerMin = [2000, 3000, 4000, 5000] };

        NextRanges next = NextCard.Plan(card.Read(1), Options).Value;

        Assert.Equal("next-more-dose", Assert.Single(next.Notes).Code);
        Assert.InRange(next.SpeedsMmPerMin[0], 400, 1400);
    }

    [Fact]
    public void The_recommended_setting_is_on_the_card_and_what_it_tells_is_announced()
    {
        for (int seed = 1; seed <= 12; seed++)
        {
            Reading scored = CardScorer.Score(new SimulatedCut().Read(seed), ScoringOptions.Default);
            if (scored.Recommendations.FirstOrDefault(r => r.Goal == Goal.SureCut) is not { } sure) continue;
            NextRanges next = NextCard.Plan(scored, Options).Value;

            Assert.Contains(sure.Unburned?.SpeedMmPerMin ?? sure.SpeedMmPerMin, next.SpeedsMmPerMin);
            Assert.Contains(sure.Unburned?.PowerPercent ?? sure.PowerPercent, next.PowersPercent);
            Assert.Equal((6, 6), (next.SpeedsMmPerMin.Count, next.PowersPercent.Count));
            Assert.Equal(["next-centred", "next-learns"], next.Notes.Select(note => note.Code).Where(code => code != "next-passed-over"));
            ExpectedLearning learning = next.Learning!;
            Assert.True(learning.TogetherPercent < 1.05 * learning.AgainPercent, $"{learning}");
            string expected = $"to ±{learning.TogetherPercent:0.#} % (with the old card burned again instead: "
                + $"±{learning.AgainPercent:0.#} %).";
            Assert.Contains(expected, next.Notes[^1].Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_cell_is_open_only_where_nobody_knows_how_it_comes_out()
    {
        SimulatedCut truth = new();
        Reading first = truth.Read(2);

        NextRanges next = NextCard.Plan(first, Options).Value;

        Match said = Regex.Match(next.Notes[0].Message, "([0-9]+) of its 36 cells may or may not come through");
        int open = int.Parse(said.Groups[1].Value);
        int sure = next.PowersPercent.Sum(power => next.SpeedsMmPerMin.Count(speed => truth.AllOpen(power, speed) is < 1e-4 or > 0.9999));
        Assert.InRange(open, 6, 36 - sure);
    }

    [Fact]
    public void Earlier_cards_are_known_of()
    {
        SimulatedCut truth = new();
        Reading first = truth.Read(1), second = truth.Read(2);
        second = second with { Plan = second.Plan with { Number = 8 } };

        ExpectedLearning alone = NextCard.Plan(second, Options).Value.Learning!,
            both = NextCard.Plan(second, [first], Options).Value.Learning!;

        Assert.True(both.TogetherPercent < 0.95 * alone.TogetherPercent);
        Assert.True(both.AgainPercent < 0.95 * alone.AgainPercent);
    }

    [Fact]
    public void Faster_cells_that_came_through_are_said_to_be_passed_over_and_why()
    {
        Reading scored = CardScorer.Score(new SimulatedCut { BridgeShare = 0.1 }.Read(1), ScoringOptions.Default);
        Recommendation sure = scored.Recommendations.First(r => r.Goal == Goal.SureCut);
        double speed = sure.Unburned?.SpeedMmPerMin ?? sure.SpeedMmPerMin;
        int faster = scored.Cells.Count(cell => cell.Settings.SpeedMmPerMin > speed
            && new[] { cell.Sides!.Left, cell.Sides.Right, cell.Sides.Top, cell.Sides.Bottom }.All(side => side.State == SideState.Open));
        Assert.InRange(faster, 1, 20);

        string note = NextCard.Plan(scored, Options).Value.Notes.Single(note => note.Code == "next-passed-over").Message;

        Assert.StartsWith($"{faster} faster {(faster == 1 ? "cell" : "cells")} of this card came through", note, StringComparison.Ordinal);
        Assert.Matches("with [0-4] of the [2-4] cells beside it held", note);
    }

    [Fact]
    public void The_limit_of_a_cut_becomes_known_about_as_well_as_announced_and_better_than_by_the_same_card_again()
    {
        SimulatedCut truth = new();
        List<double> together = [], again = [];
        for (int seed = 1; seed <= 24; seed++)
        {
            Reading first = truth.Read(seed);
            if (NextCard.Plan(first, Options).Value is not { Learning: { } announced } next) continue;
            SimulatedCut planned = truth with { PowersPercent = [.. next.PowersPercent], SpeedsMmPerMin = [.. next.SpeedsMmPerMin] };
            if (HalfWidth(first, planned.Read(1000 + seed), announced) is not { } after
                || HalfWidth(first, truth.Read(1000 + seed), announced) is not { } afterAgain)
                continue;
            together.Add(after / announced.TogetherPercent);
            again.Add(after / afterAgain);
        }

        Assert.InRange(together.Count, 18, 24);
        Assert.InRange(Median(together), 0.7, 1.3);
        // Both hold what cards differ by, 1.96 · 3 % / √2, which neither shrinks: what is left of the rest is under two thirds.
        Assert.InRange(Median(again), 0.5, 0.9);
    }

    [Fact]
    public void The_limit_of_a_full_mark_becomes_known_about_as_well_as_announced()
    {
        SimulatedCard truth = new() { StrengthChance = 0.03 };
        List<double> together = [];
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading first = CardScorer.Score(truth.Read(seed), ScoringOptions.Default);
            if (NextCard.Plan(first, Options) is not { IsRefused: false, Value: { Learning: { } announced } next }) continue;
            Reading second =
                (truth with { PowersPercent = [.. next.PowersPercent], SpeedsMmPerMin = [.. next.SpeedsMmPerMin] }).Read(1000 + seed);
            if (HalfWidth(first, second, announced) is { } after) together.Add(after / announced.TogetherPercent);
        }

        Assert.InRange(together.Count, 7, 10);
        Assert.InRange(Median(together), 0.6, 1.5);
    }

    [Fact]
    public void A_card_that_knows_its_limit_says_that_another_would_learn_little()
    {
        SimulatedCut card = new()
        {
            PowersPercent = [.. Enumerable.Range(0, 20).Select(i => 40.0 + 3 * i)],
            SpeedsMmPerMin = [.. Enumerable.Range(0, 20).Select(i => 150.0 + 15 * i)],
        };

        NextRanges next = NextCard.Plan(card.Read(1), Options with { PowerStepPercent = 5 }).Value;

        Assert.Equal("next-learns-little", next.Notes[^1].Code);
    }

    [Fact]
    public void What_gives_no_basis_is_refused_in_one_line()
    {
        Reading reading = new SimulatedCut().Read(1);
        Reading unseen = reading with { Cells = reading.Cells.Select(cell => cell with { Sides = null }).ToValueList() };
        Reading empty = reading with { Cells = [] };

        foreach (Reading bad in (Reading[])[unseen, empty])
            Assert.Equal("next-no-basis", NextCard.Plan(bad, Options).Refusal!.Code);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 5)]
    [InlineData(4, 1)]
    [InlineData(2, 2)]
    public void Small_cards_get_a_next_card_or_a_reason(int rows, int columns)
    {
        for (int seed = 1; seed <= 10; seed++)
        {
            double[] powers = [.. Enumerable.Range(0, columns).Select(i => 52 + 12.0 * i)],
                speeds = [.. Enumerable.Range(0, rows).Select(i => 200 + 60.0 * i)];
            foreach (Reading reading in (Reading[])[
                new SimulatedCut { PowersPercent = powers, SpeedsMmPerMin = speeds }.Read(seed),
                new SimulatedCard { PowersPercent = powers, SpeedsMmPerMin = [.. speeds.Select(speed => 5 * speed)] }.Read(seed)])
            {
                Outcome<NextRanges> next = NextCard.Plan(reading, Options);
                if (next.IsRefused) Assert.Equal("next-no-basis", next.Refusal!.Code);
                else Assert.True(next.Value.SpeedsMmPerMin.Count > 1 && next.Value.PowersPercent.Count > 1);
            }
        }
    }

    [Fact]
    public void An_axis_that_was_not_power_or_speed_keeps_the_recommended_value()
    {
        SimulatedCut card = new() { PowerExponent = 30 };
        Reading reading = card.Along(Setting.FocusOffsetMm, [-3, -1.5, 0], [40, 46, 52, 58, 64, 70, 76, 82, 88, 94, 100],
            (power, focus) => power / (1 + 0.1 * Math.Pow(focus + 1.5, 2)), seed: 5);

        NextRanges next = NextCard.Plan(reading, Options).Value;

        Assert.Equal(-1.5, next.About.FocusOffsetMm);
        Assert.Equal(6, next.SpeedsMmPerMin.Count);
    }

    /// <summary>As the scoring of both cards states it, at the burned speed nearest to the one asked for.</summary>
    private static double? HalfWidth(Reading first, Reading second, ExpectedLearning at) =>
        CardScorer
            .Score(second with { Plan = second.Plan with { Number = first.Plan.Number + 1 } }, [first], ScoringOptions.Default)
            .Boundary?.MinBy(point => Math.Abs(Math.Log(point.SpeedMmPerMin / at.SpeedMmPerMin))) is { } point
                ? 50 * (point.High - point.Low) / point.PowerPercent
                : null;

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
