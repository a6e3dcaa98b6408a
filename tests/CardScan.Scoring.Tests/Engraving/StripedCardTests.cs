using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>Rows of a card that came out weaker together: the belt, the focus or the extraction of a row, not its setting.</summary>
public sealed class StripedCardTests
{
    private static readonly SimulatedCard Card = new()
    {
        PowersPercent = [20, 30, 40, 50, 60, 70, 80, 95],
        SpeedsMmPerMin = [1000, 1300, 1700, 2200, 2900, 3800, 4900, 6400],
        StrengthChance = 0.005,
        DarknessError = 0.004,
    };

    /// <summary>
    /// Taken for chance of single cells, 7 % in every other row leave the boundary open by 35 to 60 % of power; told as
    /// what whole rows have in common, by 12 to 23 %.
    /// </summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Rows_that_are_weaker_as_a_whole_leave_the_boundary_as_well_known_as_the_cells_along_them(int seed)
    {
        ValueList<BoundaryPoint> boundary = CardScorer.Score(Striped(Card.Read(seed)), ScoringOptions.Default).Boundary!;

        Assert.InRange(boundary.Average(point => Math.Log(point.High / point.Low)), 0, 0.25);
        // Where the law is at 95 % of its strongest mark, stripes aside.
        Assert.All(boundary, point => Assert.True(
            Card.Share(point.Low, point.SpeedMmPerMin) < 0.95 && Card.Share(point.High, point.SpeedMmPerMin) > 0.95, $"{point}"));
    }

    private static Reading Striped(Reading reading) => reading with
    {
        Cells = reading.Cells.Select(cell => cell.Row % 2 == 0
            ? cell
            : cell with { Darkness = cell.Darkness! with { Value = Weaker(cell.Darkness.Value) } }).ToValueList(),
    };

    private static double Weaker(double darkness) => -Math.Log10(1 - 0.93 * (1 - Math.Pow(10, -darkness)));
}
