using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>
/// Simulated cut cards of laws that no single logistic step follows, on which settings were once stated at 99 % and wrong; where
/// a number is given, it is the true probability at that setting by the noise-free law (fixtures/readings/foreign-laws/truth.json).
/// </summary>
public sealed class ForeignCutsTests
{
    [Fact]
    public void Melt_that_runs_together_is_no_knot_on_a_small_card()
    {
        // 120 mm/min at 68 %, once stated at 99.6 %, comes free with 0.15: one step slower or stronger than what came through.
        Reading scored = Scored("cut-acrylic-4-401008.json");

        // Between the two ends nothing is left that comes free more often than not at the low end of its interval.
        Assert.Empty(scored.Recommendations);
        Assert.Contains("both faster and slower ones were held", scored.Advice.Single(advice => advice.Code == "no-sure-cut").Message,
            StringComparison.Ordinal);
        Assert.Contains(scored.Advice, advice => advice.Code == "closes-again");
    }

    [Fact]
    public void The_corner_of_a_driver_that_levels_off_is_not_called_sure()
    {
        // 490 mm/min at 100 % came through here, and does so with 0.652.
        Reading scored = Scored("cut-driver-6-601006.json");

        Assert.All(scored.Recommendations,
            one => Assert.True(one.SpeedMmPerMin < 490, $"{one.Goal}: {one.SpeedMmPerMin} mm/min at {one.PowerPercent} %"));
    }

    [Fact]
    public void Sides_held_at_any_dose_are_in_what_is_stated()
    {
        Recommendation sure = SureCut(Scored("cut-floor-10-1005020.json"))!;

        Assert.InRange(0.877, sure.Interval!.Low, sure.Interval.High);
        Assert.True(sure.Confidence <= 0.877, $"{sure.Confidence}");
    }

    [Fact]
    public void All_through_the_weakest_corner_is_not_sure_and_the_limit_is_said_to_be_unseen()
    {
        // The limit lies under the weakest cell, 340 mm/min at 37 %, which comes free with 0.22.
        Reading scored = Scored("all-through-10-333012.json");

        Recommendation sure = SureCut(scored)!;
        Assert.True(sure.PowerPercent > 44, $"{sure.PowerPercent}");
        Judgement judgement = Judgement.Of(scored);
        Assert.Equal((Usability.WithCare, "all-through"), (judgement.Usability, judgement.Advice!.Code));
    }

    [Fact]
    public void Inside_a_window_with_two_ends_the_setting_keeps_off_both_and_the_next_card_too()
    {
        Reading scored = Scored("acrylic-v-8-5003.json");

        Recommendation sure = SureCut(scored)!;
        // Held again at 190 mm/min and slower, not through at 420 to 610 mm/min.
        Assert.InRange(sure.SpeedMmPerMin, 230, 340);
        Assert.All(scored.Cells.Where(cell => Math.Abs(cell.Row - sure.Cell!.Row) + Math.Abs(cell.Column - sure.Cell.Column) == 1
            && cell.Settings.SpeedMmPerMin < sure.SpeedMmPerMin),
            slower => Assert.Equal(Opening.Through, slower.Through));
        NextRanges next = NextCard.Plan(scored, new() { Rows = 8, Columns = 8 }).Value;
        Assert.All(next.SpeedsMmPerMin, speed => Assert.True(speed >= 190, $"{speed} mm/min"));
    }

    [Fact]
    public void What_a_cell_can_be_counted_on_for_is_the_nearer_end()
    {
        CutCard card = CutCard.Of(SavedReadings.Load("foreign-laws", "acrylic-v-8-5003.json"));
        CutLaw law = CutLaw.Of(card)!;

        CutCell[] nearSlowEnd =
            [.. card.Cells.Where(cell => law.Slow!.Expected(cell.Point).Low < law.Fast.ThroughLimit(cell.Point, isUpper: false) - 0.1)];

        Assert.True(nearSlowEnd.Length > 5, $"{nearSlowEnd.Length}");
        Assert.All(nearSlowEnd, cell => Assert.Equal(law.Slow!.Expected(cell.Point).Low, new CutEstimate(law, cell).Low, 1e-12));
    }

    private static Reading Scored(string file) => CardScorer.Score(SavedReadings.Load("foreign-laws", file), ScoringOptions.Default);

    private static Recommendation? SureCut(Reading scored) => scored.Recommendations.SingleOrDefault(one => one.Goal == Goal.SureCut);
}
