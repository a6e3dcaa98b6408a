using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

public sealed class CardScorerEngraveTests
{
    private static readonly ScoringOptions Options = ScoringOptions.Default;

    // Laws of five kinds of material; the fastest full mark is known by construction. Settings at least as fast with at
    // least 93 % are as good as right, given chance.
    public static TheoryData<string> Materials => new(Cards.Keys);

    private static Dictionary<string, SimulatedCard> Cards { get; } = new()
    {
        ["wood"] = new() { StrengthChance = 0.03 },
        ["coat"] = new()
        {
            PowersPercent = [15, 25, 35, 45, 55, 70, 85], SpeedsMmPerMin = [2000, 3000, 4500, 6500, 9000],
            Plateau = 0.94, ThresholdDose = 0.13, ScaleDose = 0.33, Shape = 1.9, ReferenceSpeed = 4400,
        },
        ["leather"] = new()
        {
            PowersPercent = [10, 15, 20, 25, 30, 40, 50, 60], SpeedsMmPerMin = [1500, 2200, 3200, 4700, 7000, 10000],
            LineIntervalMm = 0.12, Plateau = 0.76, ThresholdDose = 0.03, ScaleDose = 0.36, ReferenceSpeed = 3900, StrengthChance = 0.02,
        },
        ["dark metal"] = new()
        {
            PowersPercent = [40, 55, 70, 85, 100], SpeedsMmPerMin = [600, 900, 1400, 2100], LineIntervalMm = 0.08,
            Plateau = 11.8, ThresholdDose = 0.15, ScaleDose = 1.9, Shape = 1, SpeedExponent = 0.9, ReferenceSpeed = 1120, IsLighter = true,
        },
        ["energy only"] = new() { SpeedExponent = 1, DarknessError = 0.005 },
    };

    [Theory]
    [MemberData(nameof(Materials))]
    public void The_fastest_full_mark_of_a_known_law_is_found(string material)
    {
        SimulatedCard card = Cards[material];
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading scored = CardScorer.Score(card.Read(seed), Options);

            Recommendation fastest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.FastestFullMark);
            Assert.InRange(card.Share(fastest.Cell!), 0.93, 1);
            Assert.True(fastest.SpeedMmPerMin >= card.SpeedsMmPerMin[card.FastestFullMark.Row], $"seed {seed}: {fastest.Reason}");
            Assert.Equal(card.PowersPercent[fastest.Cell!.Column], fastest.PowerPercent);
            Recommendation darkest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.Darkest);
            Assert.InRange(card.Share(darkest.Cell!), 0.97, 1);
        }
    }

    [Fact]
    public void Exact_cells_give_back_the_law()
    {
        SimulatedCard card = new() { DarknessError = 0 };

        FittedModel model = CardScorer.Score(card.Read(1), Options).Model!;

        Assert.Equal("saturating-exponential", model.Name);
        Assert.Equal(card.Plateau, model.Parameters["plateau"].Value, 1e-3);
        Assert.Equal(card.Strongest, model.Parameters["strongestMark"].Value, 1e-3);
        Assert.Equal(card.Shape, model.Parameters["shape"].Value, 1e-2);
        Assert.Equal(card.SpeedExponent, model.Parameters["speedExponent"].Value, 1e-3);
        Assert.Equal(30, model.Diagnostics["cellsUsed"]);
    }

    [Fact]
    public void The_curve_passes_through_its_cells_within_the_band()
    {
        SimulatedCard card = new() { StrengthChance = 0.02 };
        Reading scored = CardScorer.Score(card.Read(3), Options);

        FittedCurve curve = scored.Model!.Curve!;

        Assert.Equal(30, curve.Cells.Count);
        Assert.Contains("J/mm²", curve.Abscissa, StringComparison.Ordinal);
        Assert.All(curve.Points, point => Assert.InRange(point.Y, point.Low - 1e-9, point.High + 1e-9));
        Assert.Equal(curve.Points.Select(point => point.X).Order(), curve.Points.Select(point => point.X));
        Assert.Equal(curve.Cells.Max(cell => cell.X), curve.Points[^1].X, 1e-3 * curve.Points[^1].X);
        Assert.Equal(card.Strongest, curve.Points[^1].Y, 0.03);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(2, 3)]
    [InlineData(4, 5)]
    public void A_spoiled_cell_is_named_and_changes_no_recommendation(int row, int column)
    {
        SimulatedCard card = new() { StrengthChance = 0.01 };
        Reading good = card.Read(5);
        Reading spoiled = WithDarkness(good, row, column, -0.15);

        Reading scored = CardScorer.Score(spoiled, Options);

        CellReading named = Assert.Single(scored.Cells, cell => cell.Flags.Contains(CellFlag.Outlier));
        Assert.Equal((row, column), (named.Row, named.Column));
        Assert.Contains(scored.Advice, advice => advice.Code == "outlier-cells");
        Recommendation expected = CardScorer.Score(good, Options).Recommendations.First(r => r.Goal == Goal.FastestFullMark);
        Assert.Equal(expected.Cell, scored.Recommendations.First(r => r.Goal == Goal.FastestFullMark).Cell);
    }

    [Fact]
    public void Chance_alone_is_seldom_called_an_outlier()
    {
        SimulatedCard card = new() { StrengthChance = 0.03 };

        int named = Enumerable.Range(1, 60).Count(seed =>
            CardScorer.Score(card.Read(seed), Options).Cells.Any(cell => cell.Flags.Contains(CellFlag.Outlier)));

        // 1 % of cards by design; 6 of 60 would be a tenfold excess.
        Assert.InRange(named, 0, 5);
    }

    [Fact]
    public void Scoring_a_scored_reading_again_changes_nothing()
    {
        Reading once = CardScorer.Score(WithDarkness(new SimulatedCard().Read(5), 1, 1, -0.2), Options);

        Assert.Equal(once, CardScorer.Score(once, Options));
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.5)]
    [InlineData(0.6)]
    public void A_curve_that_has_not_levelled_off_gets_a_way_to_go_instead_of_a_full_mark(double plateauShare)
    {
        SimulatedCard card = Reaching(plateauShare);
        Reading[] scored = [.. Enumerable.Range(1, 20).Select(seed => CardScorer.Score(card.Read(seed), Options))];
        Reading[] refused = [.. scored.Where(reading => reading.Advice.Any(a => a.Code == "not-levelled-off"))];

        // Far from its plateau a curve cannot always be told from a steep threshold: one in ten may pass, with the caution.
        Assert.InRange(refused.Length, 17, 20);
        foreach (Reading reading in refused)
        {
            Assert.DoesNotContain(reading.Recommendations, r => r.Goal == Goal.FastestFullMark);
            Assert.Contains(reading.Recommendations, r => r.Goal == Goal.Darkest);
            Advice advice = reading.Advice.Single(a => a.Code == "not-levelled-off");
            Assert.Equal(Goal.FastestFullMark, advice.Goal);
            Assert.Contains("mm/min", advice.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(0.92)]
    [InlineData(0.97)]
    public void A_curve_that_nearly_levels_off_gets_its_full_mark(double plateauShare)
    {
        SimulatedCard card = Reaching(plateauShare);
        for (int seed = 1; seed <= 5; seed++)
            Assert.Contains(CardScorer.Score(card.Read(seed), Options).Recommendations, r => r.Goal == Goal.FastestFullMark);
    }

    [Fact]
    // Coated aluminium at one power and three speeds, 1 : 2 : 2.5, without visible difference (common practice, no source).
    public void A_saturated_card_gets_its_fastest_setting_and_is_told_to_go_further()
    {
        Reading scored = CardScorer.Score(ReadingOf([80], [1000, 2000, 2500], [0.62, 0.63, 0.618]), Options);

        Recommendation fastest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.FastestFullMark);
        Assert.Equal((2500, 80), (fastest.SpeedMmPerMin, fastest.PowerPercent));
        Advice advice = Assert.Single(scored.Advice, a => a.Code == "saturated");
        Assert.Contains("2500 mm/min", advice.Message, StringComparison.Ordinal);
        Assert.Contains("80 %", advice.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_whole_saturated_grid_gets_the_fastest_setting_with_the_least_power()
    {
        SimulatedCard card = new() { ThresholdDose = 0, ScaleDose = 0.05, StrengthChance = 0.02 };

        Reading scored = CardScorer.Score(card.Read(2), Options);

        Recommendation fastest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.FastestFullMark);
        Assert.Equal((5000, 20), (fastest.SpeedMmPerMin, fastest.PowerPercent));
        Assert.Contains(scored.Advice, a => a.Code == "saturated");
    }

    [Fact]
    public void A_halo_past_the_limit_passes_the_strongest_cell_over()
    {
        SimulatedCard card = new();
        Reading reading = card.Read(1);
        reading = reading with
        {
            Cells =
                reading.Cells.Select(cell => cell with { HaloMm = new(cell is { Row: 0, Column: >= 4 } ? 1.6 : 0.2, 0.05) }).ToValueList(),
        };

        Recommendation darkest = CardScorer.Score(reading, Options).Recommendations.Single(r => r.Goal == Goal.Darkest);

        Assert.False(darkest.Cell is { Row: 0, Column: >= 4 });
        Assert.Contains("2 stronger cells", darkest.Reason, StringComparison.Ordinal);
        Assert.Equal(new CellAddress(0, 5),
            CardScorer.Score(reading, Options with { HaloLimitMm = 2 }).Recommendations.Single(r => r.Goal == Goal.Darkest).Cell);
    }

    [Fact]
    public void Demanding_more_confidence_never_gives_a_faster_setting()
    {
        Reading reading = new SimulatedCard { StrengthChance = 0.04 }.Read(8);
        double last = double.PositiveInfinity;
        foreach (double confidence in new[] { 0.1, 0.5, 0.9, 0.99 })
        {
            Recommendation fastest = CardScorer.Score(reading, Options with { FullMarkConfidence = confidence })
                .Recommendations.Single(r => r.Goal == Goal.FastestFullMark);
            Assert.True(fastest.SpeedMmPerMin <= last);
            Assert.True(fastest.Confidence >= confidence - 0.001);
            last = fastest.SpeedMmPerMin;
        }
    }

    [Theory]
    [InlineData(true, true)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void A_reversed_axis_gives_no_setting_but_a_hint_at_the_plan(bool columns, bool rows)
    {
        for (int seed = 0; seed < 40; seed++)
        {
            Reading right = new SimulatedCard { StrengthChance = 0.03 }.Read(seed);
            Plan reversed = right.Plan with { Columns = Turned(right.Plan.Columns, columns), Rows = Turned(right.Plan.Rows, rows) };
            Reading wrong = right with
            {
                Plan = reversed,
                Cells = right.Cells.Select(cell => cell with
                {
                    Dose = null,
                    Settings = reversed.SettingsOf(reversed.Cells.First(c => c.Row == cell.Row && c.Column == cell.Column))
                }).ToValueList(),
            };

            Reading scored = CardScorer.Score(wrong, Options);

            Assert.Empty(scored.Recommendations);
            Advice advice = Assert.Single(scored.Advice);
            Assert.Equal("weakens-all-over", advice.Code);
            Assert.Contains("no axis is reversed", advice.Message, StringComparison.Ordinal);
            Assert.NotEmpty(CardScorer.Score(right, Options).Recommendations);
        }

        static Axis Turned(Axis axis, bool isTurned) => isTurned ? axis with { Values = axis.Values.Reverse().ToValueList() } : axis;
    }

    [Fact]
    public void Marks_that_weaken_at_high_dose_are_not_forced_into_the_law()
    {
        // The coat burns off: beyond the seventh step the mark weakens by a third.
        double[] speeds = [1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000];
        double[] strengths = [0.45, 0.5, 0.58, 0.7, 0.72, 0.6, 0.45, 0.3];
        Reading scored = CardScorer.Score(ReadingOf([60], speeds, strengths), Options);

        Advice advice = Assert.Single(scored.Advice, a => a.Code == "weakens-at-high-dose");
        Assert.Contains("J/mm²", advice.Message, StringComparison.Ordinal);
        Assert.Equal("rise-then-fall", scored.Model!.Name);
        Recommendation fastest = scored.Recommendations.Single(r => r.Goal == Goal.FastestFullMark);
        Assert.InRange(fastest.SpeedMmPerMin, 2000, 3200);
        Assert.InRange(scored.Recommendations.Single(r => r.Goal == Goal.Darkest).SpeedMmPerMin, 2000, 3200);
    }

    [Fact]
    public void Marks_without_any_order_are_not_forced_into_the_law()
    {
        Chance chance = new(5);
        Reading scored = CardScorer.Score(
            ReadingOf([20, 40, 60, 80], [1000, 2000, 3000, 4000], [.. Enumerable.Range(0, 16).Select(_ => 0.2 + 0.6 * chance.Uniform())]),
            Options);

        Assert.Equal("no-order", Assert.Single(scored.Advice).Code);
        Assert.Empty(scored.Recommendations);
        Assert.Null(scored.Boundary);
    }

    [Fact]
    public void Glare_and_clipped_cells_are_left_out()
    {
        SimulatedCard card = new();
        Reading reading = card.Read(4);
        Reading flagged = reading with
        {
            Cells = reading.Cells.Select(cell => cell.Column == 0 ? cell with { Darkness = new(3, 0.01), Flags = [CellFlag.Glare] } : cell)
                .ToValueList(),
        };

        Reading scored = CardScorer.Score(flagged, Options);

        Assert.Equal(25, scored.Model!.Diagnostics["cellsUsed"]);
        Assert.Equal(card.Plateau, scored.Model.Parameters["plateau"].Value, 0.03);
    }

    [Fact]
    public void Degenerate_cards_end_in_words()
    {
        Reading full = new SimulatedCard().Read(1);
        Reading flagged = full with { Cells = full.Cells.Select(cell => cell with { Flags = [CellFlag.Clipped] }).ToValueList() };
        Reading unmeasured = full with { Cells = full.Cells.Select(cell => cell with { Darkness = null }).ToValueList() };
        Reading bare = ReadingOf([20, 40, 60], [1000, 2000, 3000], [.. Enumerable.Repeat(0.003, 9)]);
        Reading empty = full with { Cells = [] };

        Assert.Equal("nothing-measured", OnlyAdvice(flagged));
        Assert.Equal("nothing-measured", OnlyAdvice(unmeasured));
        Assert.Equal("nothing-measured", OnlyAdvice(empty));
        Assert.Equal("no-mark", OnlyAdvice(bare));
        Assert.Equal("too-few-cells", OnlyAdvice(ReadingOf([50], [1000], [0.5])));
        Assert.Equal("too-few-cells", OnlyAdvice(ReadingOf([50, 60], [1000], [0.5, 0.6])));
    }

    [Fact]
    public void One_row_is_scored_with_energy_alone()
    {
        double[] speeds = [800, 1100, 1500, 2000, 2700, 3700, 5000, 7000];
        SimulatedCard card = new() { PowersPercent = [60], SpeedsMmPerMin = speeds, SpeedExponent = 1 };

        Reading scored = CardScorer.Score(card.Read(2), Options);

        Recommendation fastest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.FastestFullMark);
        Assert.InRange(card.Share(fastest.Cell!), 0.93, 1);
        Assert.Equal(new Measured(1, 0), scored.Model!.Parameters["speedExponent"]);
    }

    [Fact]
    public void Wild_values_never_throw()
    {
        Chance chance = new(99);
        for (int trial = 0; trial < 150; trial++)
        {
            int columns = 1 + (int)(5 * chance.Uniform());
            int rows = 1 + (int)(5 * chance.Uniform());
            double[] strengths = [.. Enumerable.Range(0, rows * columns)
                .Select(_ => Math.Min(0.99, trial % 3 == 0 ? chance.Normal() : 0.5 * chance.Uniform()))];
            Reading reading = ReadingOf(
                [.. Enumerable.Range(1, columns).Select(c => 10.0 * c)],
                [.. Enumerable.Range(1, rows).Select(r => 500.0 * r)], strengths, 0);

            Reading scored = CardScorer.Score(reading, Options);

            Assert.True(scored.Recommendations.Count + scored.Advice.Count > 0);
            // The strongest mark is compared, not demanded: it has no probability. None is certain.
            Assert.All(scored.Recommendations.Where(r => r.Goal == Goal.Darkest), r => Assert.Null(r.Confidence));
            Assert.All(scored.Recommendations.Where(r => r.Goal != Goal.Darkest), r => Assert.InRange(r.Confidence!.Value, 0.001, 0.999));
            // What cannot be written is found here: JSON knows no infinity.
            Assert.NotEmpty(CardJson.Write(scored));
        }
    }

    [Fact]
    public void An_option_out_of_its_range_is_the_programmers_fault()
    {
        Reading reading = new SimulatedCard().Read(1);

        Assert.Throws<ArgumentOutOfRangeException>(() => CardScorer.Score(reading, Options with { FullMarkShare = 1 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => CardScorer.Score(reading, Options with { HaloLimitMm = double.NaN }));
        Assert.Throws<ArgumentNullException>(() => CardScorer.Score(null!, Options));
    }

    [Fact]
    public void A_recommendation_says_how_much_it_hangs_on_single_cells()
    {
        SimulatedCard card = new() { DarknessError = 0.002 };

        FittedModel model = CardScorer.Score(card.Read(1), Options).Model!;

        // The nearest other share is 0.005 from the limit, far more than one cell can move it at this noise.
        Assert.Equal(1, model.Diagnostics["fastestFullMarkStability"], 0.07);
    }

    [Fact]
    public void The_boundary_gives_the_power_of_a_full_mark_at_each_speed()
    {
        SimulatedCard card = new() { DarknessError = 0.002 };

        ValueList<BoundaryPoint> boundary = CardScorer.Score(card.Read(1), Options).Boundary!;

        Assert.InRange(boundary.Count, 2, 5);
        foreach (BoundaryPoint point in boundary)
        {
            Assert.Equal(0.95, card.Share(point.PowerPercent, point.SpeedMmPerMin), 0.005);
            Assert.InRange(point.PowerPercent, point.Low, point.High);
            Assert.InRange(point.PowerPercent, card.PowersPercent.Min(), card.PowersPercent.Max());
        }

        Assert.Equal(boundary.Select(point => point.SpeedMmPerMin).Order(), boundary.Select(point => point.SpeedMmPerMin));
    }

    [Theory]
    [InlineData(0.0, 0.01)]
    [InlineData(0.03, 0.01)]
    public void Intervals_hold_the_truth_about_as_often_as_they_say(double strengthChance, double darknessError)
    {
        SimulatedCard card =
            new() { StrengthChance = strengthChance, DarknessError = darknessError, PowersPercent = [20, 30, 40, 50, 60, 70, 80, 95] };
        int points = 0, held = 0, strongestHeld = 0;
        const int runs = 100;
        for (int seed = 1; seed <= runs; seed++)
        {
            Reading scored = CardScorer.Score(card.Read(seed), Options);
            foreach (BoundaryPoint point in scored.Boundary ?? [])
            {
                points++;
                if (card.Share(point.Low, point.SpeedMmPerMin) <= 0.95 && card.Share(point.High, point.SpeedMmPerMin) >= 0.95) held++;
            }

            Measured strongest = scored.Model!.Parameters["strongestMark"];
            if (Math.Abs(strongest.Value - card.Strongest) <= 2.03 * strongest.StandardError) strongestHeld++;
        }

        // Nominal 95 %; 100 cards leave a deviation of 2 % for independent figures, more for the points of one boundary.
        Assert.InRange(points, 2 * runs, 5 * runs);
        Assert.InRange((double)held / points, 0.89, 1);
        Assert.InRange((double)strongestHeld / runs, 0.89, 1);
    }

    [Theory]
    [InlineData("wood")]
    [InlineData("dark metal")]
    public void A_reading_that_states_contrast_alone_is_scored_alike(string material)
    {
        Reading read = Cards[material].Read(1);
        Reading contrastAlone = read with
        {
            // Weber contrast of a density D: 10^-D - 1; its error by the law of propagation.
            Cells = read.Cells.Select(cell => cell with
            {
                Darkness = null,
                Contrast = new(Math.Pow(10, -cell.Darkness!.Value) - 1,
                    Math.Log(10) * Math.Pow(10, -cell.Darkness.Value) * cell.Darkness.StandardError),
            }).ToValueList(),
        };

        Reading expected = CardScorer.Score(read, Options), scored = CardScorer.Score(contrastAlone, Options);

        Assert.NotEmpty(scored.Recommendations);
        Assert.Equal(expected.Recommendations.Select(r => (r.Goal, r.Cell)), scored.Recommendations.Select(r => (r.Goal, r.Cell)));
        // Rounding alone tells the two apart, which may tip a draw or two of 400.
        Assert.Equal(expected.Recommendations[0].Confidence!.Value, scored.Recommendations[0].Confidence!.Value, 0.01);
    }

    private static string OnlyAdvice(Reading reading)
    {
        Reading scored = CardScorer.Score(reading, Options);
        Assert.Empty(scored.Recommendations);
        return Assert.Single(scored.Advice).Code;
    }

    private static SimulatedCard Reaching(double plateauShare)
    {
        SimulatedCard card = new();
        double above = card.EffectiveDose(card.PowersPercent.Max(), card.SpeedsMmPerMin.Min()) - card.ThresholdDose;
        return card with { ScaleDose = above / Math.Pow(-Math.Log(1 - plateauShare), 1 / card.Shape) };
    }

    private static Reading WithDarkness(Reading reading, int row, int column, double darkness) => reading with
    {
        Cells = reading.Cells.Select(cell => cell.Row == row && cell.Column == column ? cell with { Darkness = new(darkness, 0.01) } : cell)
            .ToValueList(),
    };

    private static Reading ReadingOf(double[] powers, double[] speeds, double[] strengths, double standardError = 0.01)
    {
        Plan plan = TestPlan.Of(Process.Engrave, powers, speeds);
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select((cell, i) => new CellReading
            {
                Row = cell.Row, Column = cell.Column, Settings = plan.SettingsOf(cell),
                Darkness = new(-Math.Log10(1 - strengths[i]), standardError),
            }).ToValueList(),
        };
    }
}
