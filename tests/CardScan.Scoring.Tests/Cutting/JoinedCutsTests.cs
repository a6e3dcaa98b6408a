using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Several cut cards of one material, scored as one.</summary>
public sealed class JoinedCutsTests
{
    private static readonly SimulatedCut Card = new();

    [Fact]
    public void Two_cards_narrow_the_boundary()
    {
        double alone = 0, together = 0;
        for (int seed = 1; seed <= 10; seed++)
        {
            alone += Width(CardScorer.Score(Card.Read(seed), ScoringOptions.Default));
            together += Width(CardScorer.Score(Card.Read(seed), [Card.Read(seed + 100)], ScoringOptions.Default));
        }

        // Two cards' chance would leave 0.71 of it; that pieces differ keeps it from that.
        Assert.InRange(together / alone, 0.6, 0.98);

        static double Width(Reading scored) => scored.Boundary!.Average(point => Math.Log(point.High / point.Low));
    }

    [Fact]
    public void An_earlier_card_is_named_with_its_cells_and_its_energy()
    {
        Reading earlier = Card.Read(2) with { PlanSha256 = new('a', 64) };
        int held = 0;
        for (int seed = 1; seed <= 20; seed++)
        {
            JoinedCard joined = Assert.Single(CardScorer.Score(Card.Read(seed + 10), [earlier], ScoringOptions.Default).Joined!);
            Assert.Equal((earlier.Plan.Number, 35, earlier.PlanSha256), (joined.Number, joined.CellsUsed, joined.PlanSha256));
            Assert.InRange(joined.DoseFactor!.StandardError, 0.005, 0.1);
            if (Math.Abs(joined.DoseFactor.Value - 1) < 2 * joined.DoseFactor.StandardError) held++;
        }

        Assert.InRange(held, 17, 20);
    }

    [Fact]
    public void Cards_that_need_other_energies_are_not_averaged()
    {
        Reading newest = Card.Read(1), other = (Card with { HalfwayPowerAt260 = 1.3 * Card.HalfwayPowerAt260 }).Read(2);

        Reading scored = CardScorer.Score(newest, [other], ScoringOptions.Default),
            alone = CardScorer.Score(newest, ScoringOptions.Default);

        Assert.Contains(scored.Advice, advice => advice.Code == "cards-disagree");
        Assert.Null(scored.Joined);
        Assert.Equal(alone.Recommendations, scored.Recommendations);
        Assert.Equal(alone.Boundary, scored.Boundary);
    }

    [Fact]
    public void Cards_of_one_material_seldom_disagree()
    {
        int told = Enumerable.Range(1, 60).Count(seed =>
            CardScorer.Score(Card.Read(seed), [Card.Read(seed + 200)], ScoringOptions.Default).Advice
                .Any(advice => advice.Code == "cards-disagree"));

        Assert.InRange(told, 0, 3);
    }

    [Fact]
    public void A_setting_may_stand_on_an_earlier_card_and_says_on_which()
    {
        // The newest card is held everywhere: only the earlier one has cells that came through.
        SimulatedCut weak = Card with { PowersPercent = [10, 15, 20, 25, 30, 35, 40] };
        Reading newest = weak.Read(1), earlier = Card.Read(2);
        earlier = earlier with { Plan = earlier.Plan with { Number = 7 } };

        Recommendation sure =
            CardScorer.Score(newest, [earlier], ScoringOptions.Default).Recommendations.Single(one => one.Goal == Goal.SureCut);

        Assert.Equal(7, sure.Card);
        CellReading cell = earlier.Cells.Single(one => one.Row == sure.Cell!.Row && one.Column == sure.Cell.Column);
        Assert.Equal((sure.PowerPercent, sure.SpeedMmPerMin), (cell.Settings.PowerPercent, cell.Settings.SpeedMmPerMin));
    }

    [Fact]
    public void A_probability_is_for_the_next_piece_which_may_need_a_little_more()
    {
        // 372 cells tell this card's own steep limit to a percent; 6 % above it the card itself is through for certain.
        SimulatedCut steep = Card with
        {
            PowerExponent = 150,
            PowersPercent = [.. Enumerable.Range(0, 31).Select(i => 40.0 + 2 * i)],
            SpeedsMmPerMin = [.. Enumerable.Range(0, 12).Select(i => 150 * Math.Pow(1.1, i))]
        };
        double power = 1.06 * steep.HalfwayPower(260, isAlongY: true);
        CutModel model = CutModel.Fit(CutCard.Of(steep.Read(1)))!;

        Estimate through = model.Expected(new(Math.Log(power), Math.Log(260), 0, 0));

        Assert.InRange(steep.AllOpen(power, 260), 0.999, 1);
        Assert.True(through.Low < 0.5, $"a piece that needs 8 % more is held: {through}");
        Assert.InRange(through.Value, 0.7, 0.97);
    }
}
