using CardScan.Model;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>Cut cells that were planned with tabs: two of 0.9 mm on every side, of which the kerf of 0.3 mm leaves 0.6 mm.</summary>
public sealed class TabsTests
{
    private const double TabMm = 0.9, HeldMm = 0.6;

    private static readonly double[] TabsAtMm = [2, 6];

    private static readonly CutSide Tabbed = new() { Bridges = [.. TabsAtMm.Select(at => new Bridge(at, HeldMm))] };

    [Theory]
    [InlineData(0.5)]
    [InlineData(1.2)]
    public void A_side_is_open_when_it_is_open_outside_its_tabs(double blurPx)
    {
        BackLitPhotos photos = BackLitPhotos.Of(Scene(_ => CutCell.Of(Tabbed)) with { BlurPx = blurPx });

        Assert.All(photos.Sides, side => Assert.Equal((SideState.Open, 0.0), (side.Reading.State, side.Reading.LongestBridgeMm)));
        Assert.All(photos.Reading.Cells, cell => Assert.Equal(Opening.Through, cell.Through));
        Assert.All(photos.Reading.Cells, cell => Assert.DoesNotContain(CellFlag.TabBurned, cell.Flags));
        Assert.Empty(photos.Warnings);
    }

    [Fact]
    public void Tabs_do_not_change_the_kerf()
    {
        CardKerf tabbed = BackLitPhotos.Of(Scene(_ => CutCell.Of(Tabbed))).Reading.Kerf!;

        Assert.Equal(0.3, tabbed.AcrossXMm!.Value, 0.03);
        Assert.Equal(0.3, tabbed.AcrossYMm!.Value, 0.03);
    }

    [Theory]
    [InlineData(4.0, 0.5)]
    [InlineData(2.75, 0.5)]
    public void What_holds_beside_a_tab_is_a_bridge(double atMm, double lengthMm)
    {
        CutSide held = Tabbed with { Bridges = [.. Tabbed.Bridges, new(atMm, lengthMm)] };
        BackLitPhotos photos =
            BackLitPhotos.Of(Scene(cell => cell is { Row: 1, Column: 2 } ? new(Tabbed, Tabbed, held, Tabbed) : CutCell.Of(Tabbed)));

        SideReading side = photos.Side(1, 2, CellSide.Top);
        Assert.Equal(SideState.Partial, side.State);
        Assert.InRange(side.LongestBridgeMm!.Value, 0.25, 0.65);
        Assert.Equal(atMm, side.LongestBridgeAtMm!.Value, 0.25);
        Assert.Equal(79, photos.Sides.Count(known => known.Reading.State == SideState.Open));
    }

    [Fact]
    public void A_closed_side_stays_closed_whatever_its_tabs()
    {
        BackLitPhotos photos = BackLitPhotos.Of(Scene(cell => cell.Column == 0 ? CutCell.Of(CutSide.Closed) : CutCell.Of(Tabbed)));

        Assert.All(photos.Sides.Where(side => side.Cell.Column == 0), side => Assert.Equal(SideState.Closed, side.Reading.State));
        Assert.All(photos.Sides.Where(side => side.Cell.Column != 0), side => Assert.Equal(SideState.Open, side.Reading.State));
    }

    [Fact]
    public void A_tab_that_burned_away_is_told_since_the_piece_may_drop()
    {
        CutSide oneLeft = new() { Bridges = [new(TabsAtMm[0], HeldMm)] };
        BackLitPhotos photos =
            BackLitPhotos.Of(Scene(cell => cell is { Row: 2, Column: 3 } ? new(oneLeft, Tabbed, Tabbed, Tabbed) : CutCell.Of(Tabbed)));

        Assert.All(photos.Reading.Cells, cell => Assert.Equal(cell is { Row: 2, Column: 3 }, cell.Flags.Contains(CellFlag.TabBurned)));
        Assert.Equal("tabs-burned", Assert.Single(photos.WarningCodes));
        Assert.Equal(SideState.Open, photos.Side(2, 3, CellSide.Left).State);
    }

    private static BackLitScene Scene(Func<Cell, CutCell> cut)
    {
        BackLitScene thin = new BackLitScene().OfThickness(planMm: 1, trueMm: 1);
        PlanFile file = thin.Room.Plan;
        Plan plan = file.Plan with { Cells = file.Plan.Cells.Select(cell => cell with { Tabs = Tabs() }).ToValueList() };
        return thin with { Room = thin.Room with { Plan = file with { Plan = plan } }, Noise = 0.004, Cut = cut };
    }

    private static ValueList<Tab> Tabs() => Enum.GetValues<CellSide>()
        .SelectMany(side => TabsAtMm.Select(at => new Tab { Side = side, AtMm = at, LengthMm = TabMm })).ToValueList();
}
