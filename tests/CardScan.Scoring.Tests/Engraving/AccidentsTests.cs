using CardScan.Model;
using CardScan.Scoring.Engraving;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>What may be left out as an accident, and what may not.</summary>
public sealed class AccidentsTests
{
    private static readonly SimulatedCard Card = new() { StrengthChance = 0.01 };

    [Fact]
    public void A_single_dark_cell_in_the_middle_is_left_out() =>
        Assert.Equal([new CellAddress(2, 3)], OutliersOf(With(Card.Read(1), 1.25, (2, 3))));

    [Fact]
    public void A_dark_cell_at_the_top_of_the_dose_is_not_left_out_and_no_plateau_below_it_is_full()
    {
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading scored = CardScorer.Score(With(Card.Read(seed), 1.15, (0, 5)), ScoringOptions.Default);

            Assert.DoesNotContain(new CellAddress(0, 5), OutliersOf(scored));
            Assert.DoesNotContain(
                scored.Recommendations, r => r.Goal == Goal.FastestFullMark && r.Confidence >= 0.9 && r.Cell != new CellAddress(0, 5));
        }
    }

    [Fact]
    public void Dark_cells_side_by_side_are_a_law_and_not_dirt()
    {
        for (int seed = 1; seed <= 10; seed++)
            Assert.Empty(OutliersOf(CardScorer.Score(With(Card.Read(seed), 1.2, (0, 4), (0, 5), (1, 5)), ScoringOptions.Default)));
    }

    [Fact]
    public void A_dark_cell_whose_neighbour_is_too_dark_as_well_does_not_stand_alone()
    {
        for (int seed = 1; seed <= 10; seed++)
            Assert.Empty(OutliersOf(CardScorer.Score(With(With(Card.Read(seed), 1.25, (2, 3)), 1.16, (2, 4)), ScoringOptions.Default)));
    }

    [Fact]
    public void A_cluster_goes_or_stays_as_one()
    {
        // The cell with the most energy has to stay, so the one beside it across the corner stays too.
        EngravedCard card = EngravedCard.Of([Card.Read(1)]);
        Suspect top = new(At(0, 5), -0.3), beside = new(At(1, 4), -0.3);

        Assert.Empty(Accidents.Among([top, beside], card, _ => 0));
        Assert.Equal([beside.Cell], Accidents.Among([beside], card, _ => 0));

        MarkedCell At(int row, int column) => card.Marked.Single(cell => cell.Cell.Address == new CellAddress(row, column));
    }

    /// <summary>Marks on their way down past the peak are over-burning; a cover hides them at once.</summary>
    [Theory]
    [InlineData(0.6, true)]
    [InlineData(0.02, false)]
    public void A_mark_that_goes_by_degrees_is_told_from_a_cover(double left, bool isGradual)
    {
        (int, int)[] strongest = [(0, 5), (0, 4), (1, 5), (0, 3)];
        EngravedCard card = EngravedCard.Of([With(Card.Read(1), left, strongest)]);
        double peakDose = Math.Exp(card.Marked
            .Where(cell => !strongest.Contains((cell.Cell.Address.Row, cell.Cell.Address.Column)))
            .Max(cell => cell.Cell.LnDose) - 1e-9);

        Assert.Equal(isGradual, GradualFall.IsSeen(card, card.Marked.Max(cell => cell.Strength), peakDose));
    }

    [Fact]
    public void On_a_small_card_no_dark_cell_is_left_out()
    {
        SimulatedCard small = Card with { PowersPercent = [30, 60, 90], SpeedsMmPerMin = [1000, 2200, 4800] };
        for (int seed = 1; seed <= 10; seed++)
            Assert.Empty(OutliersOf(CardScorer.Score(With(small.Read(seed), 1.3, (1, 1)), ScoringOptions.Default)));
    }

    private static IEnumerable<CellAddress> OutliersOf(Reading reading) =>
        (reading.Model is null ? CardScorer.Score(reading, ScoringOptions.Default) : reading).Cells
            .Where(cell => cell.Flags.Contains(CellFlag.Outlier)).Select(cell => new CellAddress(cell.Row, cell.Column));

    private static Reading With(Reading reading, double factor, params (int Row, int Column)[] cells) => reading with
    {
        Cells = reading.Cells.Select(cell => cells.Contains((cell.Row, cell.Column))
            ? cell with
            {
                Darkness =
                    cell.Darkness! with { Value = -Math.Log10(Math.Max(0.02, 1 - factor * (1 - Math.Pow(10, -cell.Darkness.Value)))) }
            }
            : cell).ToValueList(),
    };
}
