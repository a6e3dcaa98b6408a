using CardScan.Model;
using CardScan.Scoring.Focus;

namespace CardScan.Scoring.Tests.Focus;

/// <summary>Best focus and beam size: against published figures, and against simulated ladders whose truth is known.</summary>
public sealed class FocusScorerTests
{
    private const int Ladders = 150;

    /// <summary>
    /// W. M. Steen, J. Mazumder, Laser Material Processing (2010): w(z) = w₀ √(1 + (z/z_R)²), z_R = πw₀²/(M²λ); figures
    /// computed for w₀ 0.04 mm at 455 nm.
    /// </summary>
    [Theory]
    [InlineData(1, 11.047359, 1, 0.040164)]
    [InlineData(1, 11.047359, 10, 0.053954)]
    [InlineData(4, 2.761840, 1, 0.042541)]
    [InlineData(4, 2.761840, 2, 0.049387)]
    [InlineData(4, 2.761840, 5, 0.082728)]
    [InlineData(4, 2.761840, 10, 0.150253)]
    public void A_beam_widens_as_Gaussian_beams_do(double quality, double rayleighMm, double offsetMm, double widthMm)
    {
        Assert.Equal(rayleighMm, Math.PI * 0.04 * 0.04 / (quality * 455e-6), 1e-5);
        Assert.Equal(widthMm, 0.04 * Math.Sqrt(new BeamShape(0, rayleighMm).SquareAt(offsetMm)), 1e-6);
    }

    /// <summary>
    /// J. M. Liu, Opt. Lett. 7 (1982) 196: D² = 2w₀² ln(F₀/F_th). The example is made up (w₀ 25 µm, F_th 0.8 J/cm²), rounded to 0.1 µm;
    /// slope 1250.599067 (SE 1.580821 with the scatter of the points), intercept 277.074550, by ordinary least squares.
    /// </summary>
    [Fact]
    public void Squares_of_widths_over_the_logarithm_of_the_energy_give_the_beam_as_Liu_has_it()
    {
        DataTable table = DataTable.Read("liu_d2_example");
        LadderPoint[] points = [.. table.Numbers("fluence_J_per_cm2")
            .Zip(table.Numbers("D_um_rounded"), (fluence, width) => new LadderPoint(new(0, 0), 0, Math.Log(fluence), width * width, 1))];
        WidthFit fit = WidthFit.To(points, new(0, 1), isGrowing: false, hasLiu: true);

        Assert.Equal(1250.599067, fit.A, 1e-5);
        Assert.Equal(277.074550, fit.B, 1e-5);
        Assert.Equal(1.580821, Math.Sqrt(fit.VarianceA * fit.Misfit / 5), 1e-5);
        Assert.Equal(25.005990, Math.Sqrt(fit.A / 2), 1e-5);
        Assert.Equal(0.801273, Math.Exp(-fit.B / fit.A), 1e-6);
    }

    [Fact]
    public void Exact_widths_give_focus_and_beam_exactly()
    {
        FocusResult focus = Score(new SimulatedLadder { Noise = 1e-6 }, 1).Focus!;

        Assert.Equal(0.3, focus.AcrossX!.BestOffset!.Value, 0.005);
        Assert.Equal(0.12, focus.AcrossX.Beam!.Value, 0.002);
        Assert.Equal(1.2, focus.AcrossX.RayleighMm!.Value, 0.03);
        Assert.Equal(0.20, focus.AcrossY!.Beam!.Value, 0.003);
        Assert.Equal(27, focus.AcrossX.Cells);
    }

    /// <summary>A share of 0.95 in 150 is within 0.90 to 0.99 with 99 % (binomial).</summary>
    [Theory]
    [InlineData(0.02, 1)]
    [InlineData(0.05, 1)]
    [InlineData(0.05, 0.5)]
    public void The_interval_of_the_best_offset_holds_the_truth_as_often_as_it_says(double noise, double statedOverTrue)
    {
        FocusResult[] found = [.. Enumerable.Range(1, Ladders)
            .Select(seed => Score(new SimulatedLadder { Noise = noise, StatedOverTrue = statedOverTrue }, seed).Focus!)];

        Interval[] offsets = [.. found.Select(focus => focus.AcrossX!.BestOffset).OfType<Interval>()];
        Assert.InRange(offsets.Length, 0.98 * Ladders, Ladders);
        Assert.InRange(offsets.Count(interval => interval.Low <= 0.3 && 0.3 <= interval.High) / (double)offsets.Length, 0.90, 0.995);
        Interval[] beams = [.. found.Select(focus => focus.AcrossX!.Beam).OfType<Interval>()];
        Assert.InRange(beams.Length, 0.9 * Ladders, Ladders);
        Assert.InRange(beams.Count(interval => interval.Low <= 0.12 && 0.12 <= interval.High) / (double)beams.Length, 0.90, 1);
    }

    [Fact]
    public void One_power_tells_the_focus_and_not_the_beam()
    {
        FocusResult[] found = [.. Enumerable.Range(1, Ladders).Select(seed => Score(new SimulatedLadder { Powers = [60] }, seed).Focus!)];

        Interval[] offsets = [.. found.Select(focus => focus.AcrossX!.BestOffset).OfType<Interval>()];
        Assert.InRange(offsets.Length, 0.9 * Ladders, Ladders);
        Assert.InRange(offsets.Count(interval => interval.Low <= 0.3 && 0.3 <= interval.High) / (double)offsets.Length, 0.90, 1);
        Assert.Contains("focus-beam-unknown", Codes(new SimulatedLadder { Powers = [60] }));
    }

    [Theory]
    [InlineData(2.6, "upper")]
    [InlineData(-2.5, "lower")]
    public void A_ladder_that_does_not_reach_the_focus_says_so_and_where_to_burn_next(double bestMm, string end)
    {
        TrueBeam beyond = new(bestMm, 0.06, 1.2, 0.2);
        for (int seed = 1; seed <= 20; seed++)
        {
            Reading scored = Score(new SimulatedLadder { AcrossX = beyond, AcrossY = beyond }, seed);

            Advice advice = scored.Advice.First(known => known.Code == "focus-at-end");
            Assert.Contains($"the {end} end of the ladder", advice.Message, StringComparison.Ordinal);
            Assert.Contains("--focus-offset=", advice.Message, StringComparison.Ordinal);
            if (scored.Focus!.AcrossX!.BestOffset is { } best) Assert.InRange(bestMm, best.Low - 0.5, best.High + 0.5);
        }
    }

    [Fact]
    public void Widths_that_hardly_change_tell_no_focus()
    {
        TrueBeam deep = new(0, 0.06, 40, 0.35);
        Reading scored = Score(new SimulatedLadder { AcrossX = deep, AcrossY = deep, Noise = 0.05 }, 3);

        Assert.Null(scored.Focus!.OffsetMm);
        Assert.Contains("focus-flat", scored.Advice.Select(advice => advice.Code));
    }

    [Fact]
    public void Too_few_widths_are_said_and_not_fitted() =>
        Assert.Contains("focus-few-widths", Codes(new SimulatedLadder { OffsetsMm = [-1, 0, 1] }));

    [Fact]
    public void Axes_that_focus_at_different_heights_are_told_apart()
    {
        Reading scored = Score(new SimulatedLadder { AcrossX = new(-0.6, 0.06, 1.2, 0.2), AcrossY = new(0.8, 0.06, 1.2, 0.2) }, 5);

        Assert.Contains("focus-axes-apart", scored.Advice.Select(advice => advice.Code));
        Assert.Equal(0.1, scored.Focus!.OffsetMm!.Value, 0.15);
    }

    [Fact]
    public void Lines_that_vanish_away_from_the_focus_are_no_reason_to_look_for_it_elsewhere()
    {
        // Hardly above the threshold: the lines are widest in focus and gone a Rayleigh length from it.
        TrueBeam faint = new(0.2, 0.10, 2.2, 1.15);
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading scored = Score(new SimulatedLadder { AcrossX = faint, AcrossY = faint, Powers = [40], Noise = 0.02 }, seed);
            if (scored.Focus!.AcrossX?.BestOffset is { } best) Assert.InRange(0.2, best.Low, best.High);
        }
    }

    [Fact]
    public void Widths_that_follow_no_beam_are_refused()
    {
        Reading reading = new SimulatedLadder { Noise = 0.01 }.Measured(1);
        Reading jumbled = reading with
        {
            Cells = reading.Cells.Select((cell, i) => cell with { LineWidths = new() { AcrossXMm = new(0.1 + 0.2 * (i * 7 % 5), 0.002) } })
                .ToValueList()
        };

        Assert.Contains("focus-misfit", CardScorer.Score(jumbled, new()).Advice.Select(advice => advice.Code));
    }

    private static Reading Score(SimulatedLadder ladder, int seed) => CardScorer.Score(ladder.Measured(seed), new());

    private static IEnumerable<string> Codes(SimulatedLadder ladder) => Score(ladder, 1).Advice.Select(advice => advice.Code);
}
