using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>Cells that were burned, but that dirt or a shadow covers in the photo: no mark where the dose is high.</summary>
public sealed class CoveredCellsTests
{
    /// <summary>Columns, rows, and which cells are covered.</summary>
    public static TheoryData<int, int, string> Blocks
    {
        get
        {
            TheoryData<int, int, string> blocks = [];
            foreach ((int columns, int rows) in new[] { (3, 3), (4, 4), (6, 5), (8, 8) })
            {
                foreach (string block in
                    new[] { "slowest row", "a middle row", "strongest column", "a middle column", "half the slowest row", "corner" })
                    blocks.Add(columns, rows, block);
            }

            return blocks;
        }
    }

    [Theory]
    [MemberData(nameof(Blocks))]
    public void No_setting_far_from_a_full_mark_is_recommended_for_a_covered_block(int columns, int rows, string block)
    {
        SimulatedCard card = Card(columns, rows);
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading scored = CardScorer.Score(Covered(card.Read(seed), (row, column) => IsIn(block, row, column, columns, rows)),
                ScoringOptions.Default);

            Assert.All(scored.Recommendations, recommendation => Assert.InRange(card.Share(recommendation.Cell!), 0.9, 1));
            Assert.True(scored.Recommendations.Count > 0 || scored.Advice.Count > 0);
            // Whatever is left out, the maker is told where to look.
            Assert.Contains(
                scored.Advice, advice => advice.Code is "no-order" or "outlier-cells" or "passed-over-cells" or "weakens-all-over");
        }
    }

    [Theory]
    [InlineData("slowest row", "all of row 1")]
    [InlineData("strongest column", "all of column 6")]
    public void A_covered_line_is_named(string block, string name)
    {
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading reading = Covered(Card(6, 5).Read(seed), (row, column) => IsIn(block, row, column, 6, 5));

            Advice advice = Assert.Single(CardScorer.Score(reading, ScoringOptions.Default).Advice);

            Assert.Equal("no-order", advice.Code);
            Assert.Contains(name, advice.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_shadow_that_halves_a_row_is_no_order_either()
    {
        SimulatedCard card = Card(6, 5);
        for (int seed = 1; seed <= 20; seed++)
        {
            Reading scored = CardScorer.Score(Covered(card.Read(seed), (row, _) => row == 0, 0.45), ScoringOptions.Default);
            Assert.All(scored.Recommendations, recommendation => Assert.InRange(card.Share(recommendation.Cell!), 0.9, 1));
        }
    }

    [Theory]
    [InlineData(4, 4)]
    [InlineData(6, 5)]
    public void A_shadow_that_halves_the_strongest_corner_is_not_over_burning(int columns, int rows)
    {
        SimulatedCard card = Card(columns, rows);
        int deceived = 0;
        for (int seed = 1; seed <= 20; seed++)
        {
            Reading scored = CardScorer.Score(Covered(card.Read(seed), (row, column) => IsIn("corner", row, column, columns, rows), 0.45),
                ScoringOptions.Default);
            if (scored.Recommendations.Any(recommendation => card.Share(recommendation.Cell!) < 0.9)) deceived++;
        }

        Assert.InRange(deceived, 0, 2);   // 16 were, before a fall was asked whether it hangs on the place
    }

    private static SimulatedCard Card(int columns, int rows) => new()
    {
        PowersPercent = Spread(20, 95, columns), SpeedsMmPerMin = Spread(1000, 5000, rows), StrengthChance = 0.03,
    };

    private static double[] Spread(double first, double last, int count) =>
        [.. Enumerable.Range(0, count).Select(i => Math.Round(first * Math.Pow(last / first, (double)i / (count - 1))))];

    private static bool IsIn(string block, int row, int column, int columns, int rows) => block switch
    {
        "slowest row" => row == 0,
        "a middle row" => row == rows / 2,
        "strongest column" => column == columns - 1,
        "a middle column" => column == columns / 2,
        "half the slowest row" => row == 0 && column >= columns / 2,
        "corner" => row < 2 && column >= columns - 2,
        _ => throw new ArgumentOutOfRangeException(nameof(block), block, "No such block."),
    };

    private static Reading Covered(Reading reading, Func<int, int, bool> isCovered, double strength = 0)
    {
        Chance chance = new(reading.Cells.Count);
        return reading with
        {
            Cells = reading.Cells.Select(cell => isCovered(cell.Row, cell.Column)
                ? cell with { Darkness = new(-Math.Log10(1 - strength) + 0.01 * chance.Normal(), 0.01) } : cell).ToValueList(),
        };
    }
}
