using CardScan.Model;

namespace CardScan.Scoring.Tests;

/// <summary>A short run of the study of docs/method/calibration.md. Cards are seeded, so the figures are the same each time.</summary>
public sealed class CalibrationTests
{
    private const int Cards = 100, Seed = 1;

    private static readonly Lazy<Tally> Engraved =
        new(() => Run(new(Process.Engrave, MarkLaws.Saturating, 6, 2, "middling", Disturbance.None)));
    private static readonly Lazy<Tally> Cut = new(() => Run(new(Process.Cut, SideLaws.Logistic, 6, 2, "middling", Disturbance.None)));

    [Theory]
    [InlineData("interval of fastest-full-mark")]
    [InlineData("band of the curve")]
    [InlineData("boundary")]
    [InlineData("speedExponent")]
    public void Intervals_of_engraved_cards_hold_the_truth_about_as_often_as_they_say(string quantity) =>
        HoldsTruth(Engraved.Value, quantity);

    [Theory]
    [InlineData("interval of sure-cut")]
    [InlineData("boundary")]
    [InlineData("doseRatioAlongYToX")]
    public void Intervals_of_cut_cards_hold_the_truth_about_as_often_as_they_say(string quantity) => HoldsTruth(Cut.Value, quantity);

    [Fact]
    public void A_recommended_engraving_costs_less_than_half_of_the_darkest_cell() => CostsLessThanHalf(Engraved.Value);

    [Fact]
    public void A_recommended_cut_costs_less_than_half_of_the_weakest_cell_seen_through()
    {
        CostsLessThanHalf(Cut.Value);
        Assert.InRange(Cut.Value.MissedShare, 0, 0.05);
    }

    /// <summary>
    /// Sixteen cells say little of how steep the step is; what is usual stands in, and keeps both the settings and the word.
    /// </summary>
    [Theory]
    [InlineData("gentle")]
    [InlineData("steep")]
    public void A_small_cut_card_gets_a_setting_and_one_between_cells_that_is_as_sure_as_stated(string steepness)
    {
        Tally tally = Run(new(Process.Cut, SideLaws.Logistic, 4, 2, steepness, Disturbance.None));

        Assert.InRange(tally.RecommendedShare, 0.9, 1);
        Assert.InRange(tally.MissedShare, 0, 0.03);
        Assert.True(tally.WithUnburned.Cards >= Cards / 2);
        (double missed, double stated, double worth) = tally.WithUnburned.Unburned;
        Assert.InRange(missed, 0, 0.04);
        Assert.True(worth >= stated - 0.005, $"stated {stated}, true {worth}");
    }

    /// <summary>Nine cells leave little to tell a fall from a plateau by: the doubt has to show.</summary>
    [Fact]
    public void A_small_card_that_weakens_again_is_not_taken_for_a_plateau()
    {
        Tally tally = Run(new(Process.Engrave, MarkLaws.RiseThenFall, 3, 2, "middling", Disturbance.None));

        HoldsTruth(tally, "interval of fastest-full-mark");
        Assert.InRange(tally.MissedShare, 0, 0.1);
    }

    /// <summary>
    /// Glare over the weakest column, or a single row: the few strong cells that are left must still be able to tell a fall.
    /// </summary>
    [Theory]
    [InlineData(3)]
    [InlineData(1)]
    public void A_handful_of_cells_that_weaken_again_is_not_taken_for_a_plateau(int speeds)
    {
        int recommended = 0, missed = 0;
        for (int seed = 1; seed <= 60; seed++)
        {
            Chance chance = new(seed);
            Grid grid = speeds == 1 ? new(Process.Engrave, [20, 35, 50, 65, 80, 95], [1500]) : Grid.Square(Process.Engrave, 3);
            double fullMarkDose = 2 * Math.Exp(0.28 * (2 * chance.Uniform() - 1));
            EngravedTruth card = new(grid, MarkLaws.Of(MarkLaws.RiseThenFall, "middling", fullMarkDose), 1, 0.02, Disturbance.None);
            Reading reading = card.Read(chance);
            if (speeds > 1)
                reading = reading with
                {
                    Cells = reading.Cells.Select(cell => cell.Column == 0 ? cell with { Flags = [CellFlag.Glare] } : cell).ToValueList()
                };
            if (CardScorer.Score(reading, ScoringOptions.Default).Recommendations.FirstOrDefault(one => one.Goal == Goal.FastestFullMark)
                is not { } fastest)
                continue;
            recommended++;
            if (card.Worth(fastest.PowerPercent, fastest.SpeedMmPerMin) < 0.9) missed++;
        }

        Assert.InRange(recommended, 30, 60);
        Assert.InRange(missed / (double)recommended, 0, 0.1);
    }

    /// <summary>A few of many cells fall: spoiled ones, to a fit that passes over what stands out.</summary>
    [Fact]
    public void A_fall_at_the_highest_doses_of_a_large_card_is_not_taken_for_spoiled_cells()
    {
        StudyCase study = new(Process.Engrave, MarkLaws.RiseThenFall, 20, 2, "gentle", Disturbance.None);
        foreach (int seed in new[] { 1, 4, 6 })
        {
            Chance chance = new(seed);
            TrueCard card = study.Draw(chance);
            Recommendation darkest =
                CardScorer.Score(card.Read(chance), ScoringOptions.Default).Recommendations.Single(one => one.Goal == Goal.Darkest);
            Assert.InRange(card.Worth(darkest.PowerPercent, darkest.SpeedMmPerMin), 0.98, 1);
        }
    }

    [Fact]
    public void Where_no_law_holds_the_intervals_are_wide()
    {
        Tally tally = Run(new(Process.Engrave, MarkLaws.Staircase, 12, 2, "middling", Disturbance.None));

        HoldsTruth(tally, "interval of fastest-full-mark");
        Assert.InRange(tally.MissedShare, 0, 0.05);
    }

    [Fact]
    public void The_same_seed_gives_the_same_card()
    {
        StudyCase study = new(Process.Engrave, MarkLaws.Logistic, 3, 5, "steep", Disturbance.None);
        Chance first = new(7), second = new(7);

        Assert.Equal(study.Draw(first).Read(first), study.Draw(second).Read(second));
    }

    /// <summary>A side that is drawn opens as often as its law says.</summary>
    [Fact]
    public void Simulated_cells_come_through_as_often_as_their_law_says()
    {
        StudyCase study = new(Process.Cut, SideLaws.Probit, 4, 5, "middling", Disturbance.None);
        TrueCard card = study.Draw(new(3));
        Chance chance = new(4);
        Reading[] readings = [.. Enumerable.Range(0, 400).Select(_ => card.Read(chance))];

        double expected = card.Grid.Settings.Sum(setting => card.Worth(setting.PowerPercent, setting.SpeedMmPerMin));
        double found = readings.Average(reading => reading.Cells.Count(cell => cell.Through == Opening.Through));

        Assert.Equal(expected, found, 0.25); // of about 6; the mean's standard error is below 0.07
    }

    private static Tally Run(StudyCase study) => new(Study.Run(study, Cards, Seed));

    private static void HoldsTruth(Tally tally, string quantity)
    {
        (double share, int count) = tally.Coverage(quantity);
        Assert.True(count >= Cards / 2, $"{count} intervals");
        Assert.InRange(share, 0.88, 1);
    }

    private static void CostsLessThanHalf(Tally tally)
    {
        Assert.True(tally.RecommendedShare > 0.9);
        Assert.InRange(tally.Regret(0.5), -1, tally.RegretByEye(0.5) / 2);
        Assert.InRange(tally.Regret(0.95), -1, tally.RegretByEye(0.95) / 2);
    }
}
