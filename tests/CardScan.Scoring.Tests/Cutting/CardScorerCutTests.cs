using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Cutting;

public sealed class CardScorerCutTests
{
    private static readonly ScoringOptions Options = ScoringOptions.Default;

    [Fact]
    public void A_sure_cut_is_truly_sure_and_was_not_seen_to_be_held()
    {
        SimulatedCut card = new();
        int given = 0;
        for (int seed = 1; seed <= 40; seed++)
        {
            Reading reading = card.Read(seed);
            Reading scored = CardScorer.Score(reading, Options);
            if (scored.Recommendations.FirstOrDefault(r => r.Goal == Goal.SureCut) is not { } sure) continue;
            given++;
            Assert.True(card.AllOpen(sure.PowerPercent, sure.SpeedMmPerMin) >= 0.9, $"seed {seed}: {sure.Reason}");
            CellReading cell = reading.Cells.Single(c => c.Row == sure.Cell!.Row && c.Column == sure.Cell.Column);
            Assert.Equal(SideState.Open, cell.Sides!.Left.State);
            Assert.InRange(sure.Interval!.Low, Options.CutConfidence, 1);
            Assert.InRange(sure.Confidence!.Value, sure.Interval.Low, sure.Interval.High);
        }

        Assert.InRange(given, 35, 40);
    }

    [Fact]
    public void The_exponents_and_the_dose_ratio_of_the_two_ways_are_recovered()
    {
        SimulatedCut card = new()
        {
            PowersPercent = [40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95],
            SpeedsMmPerMin = [150, 170, 200, 230, 260, 300, 340, 390, 450, 520],
        };

        FittedModel model = CardScorer.Score(card.Read(11), Options).Model!;

        Assert.Equal("penalised-logistic", model.Name);
        Assert.Equal(480, model.Diagnostics["sidesUsed"]);
        Within(card.PowerExponent, model.Parameters["powerExponent"]);
        Within(card.PowerExponent * card.SpeedOverPower, model.Parameters["speedExponent"]);
        Within(card.DoseRatio, model.Parameters["doseRatioAlongYToX"]);

        static void Within(double truth, Measured estimate) => Assert.InRange(truth, estimate.Value - 3 * estimate.StandardError, estimate.Value + 3 * estimate.StandardError);
    }

    [Fact]
    public void The_boundary_holds_the_true_halfway_power_of_the_harder_way()
    {
        SimulatedCut card = new();
        int held = 0, drawn = 0;
        for (int seed = 1; seed <= 60; seed++)
        {
            foreach (BoundaryPoint point in CardScorer.Score(card.Read(seed), Options).Boundary ?? [])
            {
                double truth = card.HalfwayPower(point.SpeedMmPerMin, isAlongY: true);
                Assert.InRange(point.PowerPercent, point.Low, point.High);
                drawn++;
                if (truth >= point.Low && truth <= point.High) held++;
            }
        }

        // Nominal 95 %; points of one card hang together, so 60 cards leave some play.
        Assert.InRange(drawn, 150, 300);
        Assert.InRange((double)held / drawn, 0.91, 1.0);
    }

    [Fact]
    public void A_clean_staircase_gives_finite_estimates()
    {
        SimulatedCut card = new() { PowerExponent = 1e6 };

        Reading scored = CardScorer.Score(card.Read(1), Options);

        Assert.InRange(scored.Model!.Parameters["powerExponent"].Value, 5, 200);
        Assert.Contains(scored.Recommendations, r => r.Goal == Goal.SureCut);
    }

    [Fact]
    public void A_piece_held_by_chance_is_not_recommended()
    {
        SimulatedCut card = new() { PowerExponent = 1e6 };
        Reading reading = card.Read(1);
        CellAddress best = CardScorer.Score(reading, Options).Recommendations.First(r => r.Goal == Goal.SureCut).Cell!;
        SideReading bridged = new() { State = SideState.Partial, OpenFraction = 0.91, SeenFraction = 1, LongestBridgeMm = 0.7 };
        Reading stuck = WithSides(reading, best, sides => sides with { Bottom = bridged });

        Recommendation other = CardScorer.Score(stuck, Options).Recommendations.First(r => r.Goal == Goal.SureCut);

        Assert.NotEqual(best, other.Cell);
    }

    [Fact]
    public void Unseen_sides_are_left_out_and_not_taken_for_closed()
    {
        SimulatedCut card = new() { PowerExponent = 1e6 };
        Reading reading = card.Read(1);
        SideReading unseen = new() { State = SideState.Unseen, SeenFraction = 0 };
        Reading half = reading with
        {
            Cells = reading.Cells.Select(cell => cell with { Sides = cell.Sides! with { Right = unseen, Top = unseen } }).ToValueList(),
        };

        Reading scored = CardScorer.Score(half, Options);

        Assert.Equal(70, scored.Model!.Diagnostics["sidesUsed"]);
        Recommendation sure = scored.Recommendations.First(r => r.Goal == Goal.SureCut);
        Assert.Equal(1, card.AllOpen(sure.PowerPercent, sure.SpeedMmPerMin), 1e-6);
    }

    [Fact]
    public void The_clean_cut_has_the_least_halo_among_the_sure_ones()
    {
        SimulatedCut card = new() { PowerExponent = 1e6 };
        Reading reading = card.Read(1);
        // Against the usual run of things the slowest row chars least here, so that speed alone cannot find it.
        reading = reading with { Cells = reading.Cells.Select(cell => cell with { HaloMm = new(0.2 + 0.1 * cell.Row, 0.02) }).ToValueList() };

        Reading scored = CardScorer.Score(reading, Options);

        Recommendation clean = scored.Recommendations.Single(r => r.Goal == Goal.CleanCut);
        Assert.Equal(0, clean.Cell!.Row);
        Assert.Contains("0.2 mm", clean.Reason, StringComparison.Ordinal);
        Assert.True(scored.Recommendations.Single(r => r.Goal == Goal.SureCut).SpeedMmPerMin > clean.SpeedMmPerMin);
    }

    [Fact]
    public void Degenerate_cards_end_in_words()
    {
        Reading all = new SimulatedCut { HalfwayPowerAt260 = 1 }.Read(1);
        Reading none = new SimulatedCut { HalfwayPowerAt260 = 1000 }.Read(1);
        Reading unseen = all with { Cells = all.Cells.Select(cell => cell with { Sides = null }).ToValueList() };

        Reading scored = CardScorer.Score(all, Options);
        Recommendation fastest = Assert.Single(scored.Recommendations);
        Assert.Equal((450, 40), (fastest.SpeedMmPerMin, fastest.PowerPercent));
        Assert.Null(fastest.Confidence);
        Assert.Equal("all-through", Assert.Single(scored.Advice).Code);

        Advice advice = Assert.Single(CardScorer.Score(none, Options).Advice);
        Assert.Equal("none-through", advice.Code);
        Assert.Contains("mm/min", advice.Message, StringComparison.Ordinal);
        Assert.Equal("no-sides-judged", Assert.Single(CardScorer.Score(unseen, Options).Advice).Code);

        Reading one = new SimulatedCut { PowersPercent = [60], SpeedsMmPerMin = [260] }.Read(3);
        Assert.NotEmpty(CardScorer.Score(one, Options).Advice);
    }

    [Fact]
    public void One_row_is_scored_by_power_alone()
    {
        SimulatedCut card = new() { SpeedsMmPerMin = [260], PowersPercent = [40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100] };

        Reading scored = CardScorer.Score(card.Read(4), Options);

        Assert.False(scored.Model!.Parameters.ContainsKey("speedExponent"));
        Assert.InRange(scored.Model.Parameters["powerExponent"].Value, 5, 60);
    }

    [Fact]
    // Common practice, no source: about 15 W optical, plywood. Thickness mm, speed mm/min, power %, focus below the surface
    // mm, share open. A check of direction only.
    public void Trade_facts_are_put_in_their_order_and_a_deeper_focus_needs_less_dose()
    {
        (double Thickness, double Speed, double Power, double Depth, double Open)[] facts =
        [
            (2, 200, 35, 0, 1), (2, 200, 30, 0, 0.97), (2, 250, 35, 0, 0), (2, 240, 33, 1, 1),
            (6, 130, 75, 0, 0.5), (6, 100, 75, 0, 1), (6, 100, 70, 3, 1),
        ];
        double[][] design = [.. facts.Select(f => new[] { 1, Math.Log(f.Power / f.Speed), Math.Log(f.Thickness), f.Depth / f.Thickness })];
        LogisticFit fit = LogisticFit.Fit(new(design, [.. facts.Select(f => f.Open)], [.. facts.Select(_ => 1.0)]));

        double[] predictors = [.. design.Select(row => row.Zip(fit.Coefficients.ToArray(), (x, b) => x * b).Sum())];
        Assert.True(Math.Min(predictors[0], predictors[1]) > predictors[2]);   // 2 mm, focus on the surface
        Assert.True(predictors[5] > predictors[4]);                            // 6 mm, focus on the surface
        Assert.True(fit.Coefficients[1] > 0 && fit.Coefficients[2] < 0);
        Assert.True(fit.Coefficients[3] > 0, "a deeper focus opens at less dose");
    }

    [Fact]
    public void More_speed_or_less_power_never_raises_the_probability()
    {
        CutModel model = CutModel.Fit(CutCard.Of(new SimulatedCut().Read(2)))!;

        Assert.True(model.SideProbability(At(70, 260), Run.AlongY) < model.SideProbability(At(80, 260), Run.AlongY));
        Assert.True(model.SideProbability(At(70, 260), Run.AlongY) > model.SideProbability(At(70, 300), Run.AlongY));
        Assert.InRange(model.Through(At(70, 260)), model.ThroughLimit(At(70, 260), isUpper: false), model.ThroughLimit(At(70, 260), isUpper: true));

        static CutPoint At(double power, double speed) => new(Math.Log(power), Math.Log(speed), 0, 0);
    }

    private static Reading WithSides(Reading reading, CellAddress address, Func<Sides, Sides> change) => reading with
    {
        Cells = reading.Cells.Select(cell => cell.Row == address.Row && cell.Column == address.Column ? cell with { Sides = change(cell.Sides!) } : cell).ToValueList(),
    };
}
