using CardScan.Model;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>
/// Bridges and spots about as long as the 2 % of a side (0.16 mm) that decide, on one card in all sizes: a bridge in the middle
/// of each left side, one near a corner of each right side, a spot of light in each closed top side.
/// </summary>
public sealed class SmallBridgesTests
{
    private static readonly double[] BridgesMm = [0.10, 0.13, 0.20, 0.30, 0.50];

    private static readonly double[] SpotsMm = [0.08, 0.12, 0.20, 0.24, 0.36];

    [Theory]
    [InlineData(0.5, 0.2)]
    [InlineData(1.2, 0.3)]
    public void A_bridge_is_found_from_a_length_that_the_blur_sets_and_its_length_is_right(double blurPx, double foundFromMm)
    {
        BackLitPhotos photos = BackLitPhotos.Of(Card(thicknessMm: 1, blurPx));

        foreach ((Cell cell, CellSide side, SideReading reading) in
            photos.Sides.Where(known => known.Side is CellSide.Left or CellSide.Right))
        {
            double bridgeMm = BridgeOf(cell);
            if (bridgeMm < foundFromMm) continue;
            Assert.Equal(SideState.Partial, reading.State);
            Assert.Equal(bridgeMm, reading.LongestBridgeMm!.Value, 0.12);
            // A bridge so close to the corner that the crossing side's light reaches it is told a little shorter.
            Assert.Equal(side == CellSide.Left ? MiddleOf(cell) : CornerOf(cell), reading.LongestBridgeAtMm!.Value, 0.12);
        }

        Assert.All(photos.Sides.Where(known => known.Side == CellSide.Bottom), known => Assert.Equal(SideState.Open, known.Reading.State));
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(1.2)]
    public void A_spot_of_light_is_as_long_as_it_is_and_no_blur_makes_a_side_of_it(double blurPx)
    {
        BackLitPhotos photos = BackLitPhotos.Of(Card(thicknessMm: 1, blurPx));

        foreach ((Cell cell, CellSide side, SideReading reading) in photos.Sides.Where(known => known.Side == CellSide.Top))
        {
            Assert.Equal(SpotOf(cell), reading.OpenFraction!.Value * 8, 0.1);
            if (SpotOf(cell) < 0.13) Assert.Equal(SideState.Closed, reading.State);
            if (SpotOf(cell) > 0.35) Assert.Equal(SideState.Partial, reading.State);
        }
    }

    [Fact]
    public void Where_slanted_walls_could_hide_a_bridge_the_side_is_not_called_open()
    {
        BackLitPhotos photos = BackLitPhotos.Of(Card(thicknessMm: 3, blurPx: 0.5));

        Assert.All(
            photos.Sides.Where(known => known.Side is CellSide.Left or CellSide.Right && BridgeOf(known.Cell) >= 0.3),
            known => Assert.Contains(known.Reading.State, new[] { SideState.Partial, SideState.Unseen }));
    }

    private static double BridgeOf(Cell cell) => BridgesMm[(cell.Row + cell.Column) % 5];

    private static double MiddleOf(Cell cell) => 2.1 + 0.37 * cell.Column + 0.53 * cell.Row;

    /// <summary>Between 0.45 and 0.8 mm from the upper or the lower end.</summary>
    private static double CornerOf(Cell cell)
    {
        double fromEnd = 0.45 + 0.07 * cell.Row + 0.035 * cell.Column;
        return cell.Column % 2 == 0 ? fromEnd : cell.HeightMm - fromEnd;
    }

    private static double SpotOf(Cell cell) => SpotsMm[(2 * cell.Row + cell.Column) % 5];

    private static BackLitScene Card(double thicknessMm, double blurPx) => new BackLitScene().OfThickness(thicknessMm, thicknessMm) with
    {
        BlurPx = blurPx,
        Noise = 0.004,
        Cut = cell =>
        {
            double from = 3.3 + 0.31 * cell.Column - 0.17 * cell.Row, to = from + SpotOf(cell);
            CutSide spot = new() { Bridges = [new((from - 1) / 2, from + 1), new((to + 9) / 2, 9 - to)] };
            return new(new() { Bridges = [new(MiddleOf(cell), BridgeOf(cell))] }, new() { Bridges = [new(CornerOf(cell), BridgeOf(cell))] },
                spot, CutSide.Open);
        },
    };
}
