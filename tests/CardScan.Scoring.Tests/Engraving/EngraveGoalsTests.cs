using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Engraving;

namespace CardScan.Scoring.Tests.Engraving;

public sealed class EngraveGoalsTests
{
    private static readonly ScoringOptions Options = ScoringOptions.Default;

    [Theory]
    [InlineData(0.80, true)]
    [InlineData(0.62, true)]    // 0.18 short of 0.8: within a fifth of the mark and four errors of 0.01
    [InlineData(0.55, false)]
    [InlineData(0.02, false)]
    [InlineData(0.95, true)]    // stronger than expected speaks against nothing
    public void A_cell_whose_own_mark_is_far_weaker_than_its_fit_is_not_believed(double measured, bool isBelievable)
    {
        MarkEstimate cell = Cell(1000, 50, strength: 0.8, measured: measured, probability: 0.99);

        Assert.Equal(isBelievable, cell.IsBelievable);
        Assert.Equal(isBelievable ? cell : null, EngraveGoals.Fastest([cell], Options));
        Assert.Equal(isBelievable ? cell : null, EngraveGoals.FastestOfAll([cell]));
        Assert.Equal(isBelievable ? cell : null, EngraveGoals.Darkest([cell], Options).Cell);
    }

    [Fact]
    public void A_cell_of_which_the_fit_knows_nothing_is_not_believed() =>
        Assert.False((Cell(1000, 50, 0.8, 0.8, 0.9) with { ShareLow = 0.1, ShareHigh = 0.995 }).IsBelievable);

    [Fact]
    public void The_gamble_is_the_fastest_cell_that_may_do_with_its_own_probability()
    {
        MarkEstimate chosen = Cell(1000, 50, 0.8, 0.8, 0.95);
        MarkEstimate likelier = Cell(1500, 80, 0.77, 0.77, 0.6);
        MarkEstimate faster = Cell(2000, 90, 0.76, 0.76, 0.3);
        MarkEstimate hopeless = Cell(3000, 90, 0.4, 0.4, 0.02);

        MarkEstimate? gamble = EngraveGoals.Gamble([chosen, likelier, faster, hopeless], chosen, EngraveMessages.LeastGamble);

        Assert.Equal(faster, gamble);
        string reason = Model.Reason.Text(EngraveMessages.FastestFullMark(chosen, chosen, gamble, [chosen, likelier, faster, hopeless]));
        Assert.Contains("2000 mm/min at 90 % is faster and may do", reason, StringComparison.Ordinal);
        Assert.Contains("a full mark with a probability of 30 %", reason, StringComparison.Ordinal);
        Assert.Null(EngraveGoals.Gamble([chosen, hopeless], chosen, EngraveMessages.LeastGamble));
    }

    [Fact]
    public void A_faint_mark_is_not_called_the_darkest_for_its_small_halo()
    {
        MarkEstimate strong = Cell(1000, 90, 0.8, 0.8, 0.95, haloMm: 1.8);
        MarkEstimate faint = Cell(4000, 10, 0.04, 0.04, 0, haloMm: 0.1);

        DarkestPick pick = EngraveGoals.Darkest([strong, faint], Options);

        Assert.Null(pick.Cell);
        Assert.Equal(strong, pick.Strongest);
        Assert.Contains("halo 1.8 mm", EngraveMessages.HaloLimit(1, strong).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mark_that_is_chosen_for_its_halo_alone_says_so_first()
    {
        MarkEstimate strong = Cell(1000, 90, 0.8, 0.8, 0.95, haloMm: 1.4);
        MarkEstimate weaker = Cell(2000, 60, 0.5, 0.5, 0, haloMm: 0.3), nearly = Cell(1500, 60, 0.75, 0.75, 0, haloMm: 0.3);

        Assert.StartsWith("63 % of the strongest mark: the strongest, 1000 mm/min at 90 %, has a halo of 1.4 mm, past your limit of 1 mm.",
            Reason([strong, weaker]), StringComparison.Ordinal);
        Assert.StartsWith("Strongest fitted mark (darkest): 1500 mm/min at 60 %", Reason([strong, nearly, weaker]),
            StringComparison.Ordinal);

        static string Reason(MarkEstimate[] cells)
        {
            DarkestPick pick = EngraveGoals.Darkest(cells, Options);
            return Model.Reason.Text(EngraveMessages.Darkest(pick.Cell!, Options.HaloLimitMm, pick, isLighter: false));
        }
    }

    [Fact]
    public void Where_no_cell_is_believed_the_halo_is_not_blamed() =>
        Assert.Equal(new DarkestPick(null, 0, null), EngraveGoals.Darkest([Cell(1000, 50, 0.8, 0.02, 0.99, haloMm: 3)], Options));

    [Fact]
    public void No_faint_mark_is_called_the_darkest_because_nothing_is_known_of_the_strong_ones()
    {
        MarkEstimate unknown = Cell(1000, 90, 0.8, 0.8, 0.4) with { ShareLow = 0.1, ShareHigh = 0.995 };
        MarkEstimate faint = Cell(3000, 30, 0.3, 0.3, 0), strongest = Cell(900, 95, 0.81, 0.81, 0.9);

        Assert.Equal(new DarkestPick(null, 0, null), EngraveGoals.Darkest([unknown, faint], Options));
        Assert.Equal(strongest, EngraveGoals.Darkest([unknown, faint, strongest], Options).Cell);
    }

    [Fact]
    public void One_spoiled_cell_does_not_turn_a_card_of_light_marks_into_a_dark_one()
    {
        Reading reading = new SimulatedCard { Plateau = 0.6, IsLighter = true }.Read(1);
        reading = reading with
        {
            Cells = reading.Cells.Select((cell, i) => i == 0 ? cell with { Darkness = new(2.5, 0.01) } : cell).ToValueList()
        };

        EngravedCard card = EngravedCard.Of(reading);

        Assert.True(card.IsLighter);
        Assert.True(card.Marked.Single(cell => cell.Cell.Address == new CellAddress(0, 0)).Strength < 0);
    }

    [Fact]
    public void Too_few_cells_are_blamed_on_the_photo_where_it_lost_the_others()
    {
        Reading reading = new SimulatedCard().Read(1);
        Reading lost =
            reading with { Cells = reading.Cells.Select((cell, i) => i < 2 ? cell : cell with { Flags = [CellFlag.Glare] }).ToValueList() };

        Advice advice = Assert.Single(CardScorer.Score(lost, Options).Advice);

        Assert.Equal("too-few-cells", advice.Code);
        Assert.Contains("28 more were burned but lost in the photo", advice.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_share_that_was_asked_for_is_the_one_in_the_sentence()
    {
        EngravedCard card = EngravedCard.Of(new SimulatedCard().Read(1));

        Advice advice = EngraveMessages.LevellingUncertain(new(0.82, 0.7, 0.9, 0.2, 0.01, 1.5), 0.9, card);

        Assert.Contains("A full mark here means 90 % of the strongest mark", advice.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Setting.LineIntervalMm, 0.08, "1000 mm/min at 50 %, line interval 0.08 mm")]
    [InlineData(Setting.FocusOffsetMm, -1.5, "1000 mm/min at 50 %, focus offset -1.5 mm")]
    [InlineData(Setting.SpeedMmPerMin, 1000, "1000 mm/min at 50 %")]
    public void A_setting_is_named_with_all_that_changes_over_the_card(Setting rows, double value, string name)
    {
        Plan plan = TestPlan.Of(Process.Engrave, [50], [1000]) with
        {
            Rows = new() { Setting = rows, Values = [value] },
            Fixed = new() { SpeedMmPerMin = 1000, LineIntervalMm = 0.1 }
        };

        Assert.Equal(name, Voice.Tell(plan.SettingsOf(plan.Cells[0]).ToFigure(plan)));
    }

    private static MarkEstimate Cell(double speed, double power, double strength, double measured, double probability,
        double? haloMm = null)
    {
        CellSettings settings = new() { PowerPercent = power, SpeedMmPerMin = speed, LineIntervalMm = 0.1 };
        BurnedCell burned = new(0, new(0, 0), settings, Math.Log(power / speed), 0, 0, settings.ToFigure());
        return new(new(burned, measured, 0.01 / Math.Log(10) / Math.Max(1 - measured, 0.01), false, haloMm), strength, strength / 0.8,
            strength / 0.8 - 0.02, strength / 0.8 + 0.02, probability);
    }
}
