using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>Cut cards before a lamp, rendered with known truth, one disturbance at a time.</summary>
public sealed class BackLitCardTests
{
    /// <summary>A millimetre of board: seen straight on, every kerf of the card shows its light.</summary>
    private static readonly BackLitScene Thin = new BackLitScene().OfThickness(planMm: 1, trueMm: 1);

    /// <summary>Three millimetres: only kerfs near the lens's foot do.</summary>
    private static readonly BackLitScene Thick = new();

    [Fact]
    public void A_card_cut_all_through_and_seen_straight_on_is_open_everywhere()
    {
        BackLitPhotos photos = BackLitPhotos.Of(Thin);

        Assert.Equal(Light.Back, photos.Reading.Photos[0].Light);
        Assert.All(photos.Sides, side => Assert.Equal(SideState.Open, side.Reading.State));
        Assert.All(photos.Reading.Cells, cell => Assert.Equal(Opening.Through, cell.Through));
        Assert.Empty(photos.Warnings);
    }

    [Theory]
    [InlineData(0.30, 0.30, 1.9)]
    [InlineData(0.20, 0.35, 1.9)]
    [InlineData(0.30, 0.45, 2.1)]
    public void Kerf_is_right_within_three_hundredths_by_axis_and_by_side(double acrossX, double acrossY, double lamp)
    {
        BackLitPhotos photos = BackLitPhotos.Of(Thin with { Cut = _ => TwoToOne(acrossX, acrossY), Lamp = (_, _) => lamp });

        Assert.Equal(acrossX, photos.Reading.Kerf!.AcrossXMm!.Value, 0.03);
        Assert.Equal(acrossY, photos.Reading.Kerf.AcrossYMm!.Value, 0.03);
        double rms = Math.Sqrt(photos.Sides.Average(side =>
            Math.Pow(side.Reading.KerfMm!.Value - (side.Side is CellSide.Left or CellSide.Right ? acrossX : acrossY), 2)));
        Assert.InRange(rms, 0, 0.03);
    }

    [Theory]
    [InlineData(1.6)]
    [InlineData(1.75)]
    [InlineData(2.4)]
    public void A_lamp_much_dimmer_or_brighter_than_usual_costs_no_more_kerf_than_two_stated_errors(double lamp)
    {
        // One photo cannot tell a bright narrow slit from a dim wide one; see docs/method, "Sides".
        CardKerf kerf = BackLitPhotos.Of(Thin with { Cut = _ => TwoToOne(0.30, 0.45), Lamp = (_, _) => lamp }).Reading.Kerf!;

        Assert.Equal(0.30, kerf.AcrossXMm!.Value, 2 * kerf.AcrossXMm.StandardError);
        Assert.Equal(0.45, kerf.AcrossYMm!.Value, 2 * kerf.AcrossYMm.StandardError);
    }

    [Theory]
    [InlineData(nameof(CellSide.Left), 3.0)]
    [InlineData(nameof(CellSide.Top), 5.2)]
    [InlineData(nameof(CellSide.Bottom), 2.0)]
    public void A_bridge_makes_its_side_partial_and_is_found_in_its_place(string sideName, double atMm)
    {
        CellSide held = Enum.Parse<CellSide>(sideName);
        BackLitPhotos photos = BackLitPhotos.Of(
            Thin with
            {
                Cut = cell => cell is { Row: 2, Column: 1 } ? With(held, new() { Bridges = [new(atMm, 0.5)] }) : CutCell.Of(CutSide.Open)
            });

        SideReading side = photos.Side(2, 1, held);
        Assert.Equal(SideState.Partial, side.State);
        Assert.Equal(0.5, side.LongestBridgeMm!.Value, 0.15);
        Assert.Equal(atMm, side.LongestBridgeAtMm!.Value, 0.3);
        Assert.Equal(Opening.Partial, photos.Reading.Cells.Single(cell => cell is { Row: 2, Column: 1 }).Through);
        Assert.Equal(79, photos.Sides.Count(known => known.Reading.State == SideState.Open));
    }

    [Fact]
    public void Of_several_bridges_the_longest_is_told()
    {
        CutSide held = new() { Bridges = [new(1.5, 0.3), new(4.0, 0.9), new(6.5, 0.4)] };
        BackLitPhotos photos = BackLitPhotos.Of(
            Thin with { Cut = cell => cell is { Row: 1, Column: 3 } ? With(CellSide.Right, held) : CutCell.Of(CutSide.Open) });

        SideReading side = photos.Side(1, 3, CellSide.Right);
        Assert.Equal(0.9, side.LongestBridgeMm!.Value, 0.15);
        Assert.Equal(4.0, side.LongestBridgeAtMm!.Value, 0.3);
        Assert.Equal(1 - 1.6 / 8, side.OpenFraction!.Value, 0.05);
    }

    [Fact]
    public void A_corner_that_sticks_is_never_called_through()
    {
        CutSide atEnd = new() { Bridges = [new(8, 1.6)] };
        BackLitPhotos photos = BackLitPhotos.Of(
            Thin with
            {
                Cut = cell => cell is { Row: 2, Column: 2 } ? new(CutSide.Open, atEnd, CutSide.Open, atEnd) : CutCell.Of(CutSide.Open)
            });

        foreach (CellSide side in (ReadOnlySpan<CellSide>)[CellSide.Right, CellSide.Bottom])
        {
            SideReading stuck = photos.Side(2, 2, side);
            Assert.Equal(SideState.Partial, stuck.State);
            Assert.InRange(stuck.LongestBridgeAtMm!.Value, 7, 8);
        }

        Assert.Equal(Opening.Partial, photos.Reading.Cells.Single(cell => cell is { Row: 2, Column: 2 }).Through);
    }

    [Fact]
    public void A_card_that_is_closed_all_over_is_judged_only_near_the_lens()
    {
        BackLitPhotos photos = BackLitPhotos.Of(Thick with { Cut = _ => CutCell.Of(CutSide.Closed) });

        Assert.All(photos.Sides, side => Assert.Contains(side.Reading.State, new[] { SideState.Closed, SideState.Unseen }));
        Assert.All(photos.Sides.Where(side => AcrossMm(side.Cell, side.Side, (60, 50)) < 8),
            side => Assert.Equal(SideState.Closed, side.Reading.State));
        Assert.All(photos.Sides.Where(side => AcrossMm(side.Cell, side.Side, (60, 50)) > 12),
            side => Assert.Equal(SideState.Unseen, side.Reading.State));
    }

    [Fact]
    public void Light_that_could_not_have_been_seen_leaves_a_side_unseen_and_never_closed()
    {
        // 0.15 mm in 3 mm shows light up to 2.9°, that is 15 mm from the lens's foot.
        CutSide narrow = new() { ThroughMm = 0.15, FaceMm = 0.15 };
        BackLitPhotos photos = BackLitPhotos.Of(Thick with { Cut = _ => CutCell.Of(narrow) });

        Assert.All(photos.Sides, side => Assert.Contains(side.Reading.State, new[] { SideState.Open, SideState.Unseen }));
        Assert.All(photos.Sides.Where(side => AcrossMm(side.Cell, side.Side, (60, 50)) > 16),
            side => Assert.Equal(SideState.Unseen, side.Reading.State));
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Open);
        Assert.Contains("sides-unseen", photos.WarningCodes);
    }

    [Fact]
    public void Closed_sides_among_open_ones_are_never_called_open()
    {
        // Every other column is closed; the open ones tell the kerf.
        BackLitPhotos photos =
            BackLitPhotos.Of(Thick with { Cut = cell => CutCell.Of(cell.Column % 2 == 0 ? CutSide.Open : CutSide.Closed) });

        Assert.All(photos.Sides.Where(side => side.Cell.Column % 2 == 1),
            side => Assert.Contains(side.Reading.State, new[] { SideState.Closed, SideState.Unseen }));
        Assert.All(photos.Sides.Where(side => side.Cell.Column % 2 == 0),
            side => Assert.Contains(side.Reading.State, new[] { SideState.Open, SideState.Unseen }));
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Closed);
    }

    [Fact]
    public void Two_views_leave_fewer_sides_unseen_than_either()
    {
        BackLitScene left = Thick.SeenFrom(35, 50), right = Thick.SeenFrom(85, 50);

        BackLitPhotos both = BackLitPhotos.Of(left, right);

        Assert.True(both.Unseen < Math.Min(BackLitPhotos.Of(left).Unseen, BackLitPhotos.Of(right).Unseen));
        Assert.DoesNotContain(both.Sides, side => side.Reading.State is SideState.Closed or SideState.Partial);
    }

    [Fact]
    public void A_bridge_stays_one_bridge_in_two_views()
    {
        // Each view shows the far face, where the bridge is, drawn along the side by another quarter of a millimetre.
        BackLitScene bridged = Thick with
        {
            Cut = cell => cell is { Row: 2, Column: 2 } ? With(CellSide.Top, new() { Bridges = [new(3, 0.3)] }) : CutCell.Of(CutSide.Open)
        };

        SideReading side = BackLitPhotos.Of(bridged.SeenFrom(35, 55), bridged.SeenFrom(85, 55)).Side(2, 2, CellSide.Top);

        Assert.Equal(SideState.Partial, side.State);
        Assert.Equal(0.3, side.LongestBridgeMm!.Value, 0.12);
        Assert.Equal(3, side.LongestBridgeAtMm!.Value, 0.1);
    }

    [Theory]
    [InlineData(6, 0)]
    [InlineData(-5, 100)]
    public void A_tilted_phone_calls_no_open_side_closed_and_no_closed_one_open(double tiltDeg, double rollDeg)
    {
        BackLitScene tilted = Thick with
        {
            Room = Thick.Room with { Camera = Thick.Room.Camera with { TiltDeg = tiltDeg, RollDeg = rollDeg, DistanceMm = 320 } },
            Cut = cell => CutCell.Of(cell.Column % 2 == 0 ? CutSide.Open : CutSide.Closed),
        };

        BackLitPhotos photos = BackLitPhotos.Of(tilted);

        Assert.All(photos.Sides.Where(side => side.Cell.Column % 2 == 1),
            side => Assert.Contains(side.Reading.State, new[] { SideState.Closed, SideState.Unseen }));
        Assert.All(photos.Sides.Where(side => side.Cell.Column % 2 == 0),
            side => Assert.Contains(side.Reading.State, new[] { SideState.Open, SideState.Unseen }));
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Open);
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Closed);
    }

    [Fact]
    public void A_piece_that_dropped_out_is_through_and_flagged()
    {
        BackLitPhotos photos =
            BackLitPhotos.Of(Thick with { Cut = cell => CutCell.Of(CutSide.Open) with { IsDropped = cell is { Row: 0, Column: 4 } } });

        CellReading dropped = photos.Reading.Cells.Single(cell => cell.Flags.Contains(CellFlag.DroppedOut));
        Assert.Equal((0, 4), (dropped.Row, dropped.Column));
        Assert.Equal(Opening.Through, dropped.Through);
    }

    [Fact]
    public void A_wall_that_glows_faintly_is_not_an_opening()
    {
        // A tenth of the way from the card to the lamp; light counts from a fifth on.
        BackLitPhotos photos =
            BackLitPhotos.Of(Thin with { WallGlow = 0.08, Cut = cell => CutCell.Of(cell.Column < 3 ? CutSide.Open : CutSide.Closed) });

        Assert.All(photos.Sides.Where(side => side.Cell.Column >= 3), side => Assert.Equal(SideState.Closed, side.Reading.State));
        Assert.All(photos.Sides.Where(side => side.Cell.Column < 3), side => Assert.Equal(SideState.Open, side.Reading.State));
    }

    [Theory]
    [InlineData(0.5, 0, 92)]
    [InlineData(1.6, 0, 92)]
    [InlineData(0.8, 0.01, 92)]
    [InlineData(0.8, 0.004, 60)]
    public void Blur_noise_and_coarse_JPEG_change_no_verdict(double blurPx, double noise, int quality)
    {
        // A little askew: in a coarse JPEG the even light of these scenes has one colour, and seen squarely they would pass for drawings.
        TestCamera askew = BackLitScene.StraightOn with { RollDeg = 0.5 };
        BackLitScene scene = Thin with
        {
            Room = Thin.Room with { Camera = askew },
            BlurPx = blurPx,
            Noise = noise,
            Cut = cell => CutCell.Of(cell.Row < 3 ? CutSide.Open : CutSide.Closed)
        };
        Outcome<SeenCard> outcome = OneCard.Read([new("photo.jpg", BackLitPhotos.Jpeg(scene, quality: quality))], scene.Room.Plan, new());

        BackLitPhotos photos = new(scene, outcome.Value.Reading);
        Assert.All(photos.Sides, side => Assert.Equal(side.Cell.Row < 3 ? SideState.Open : SideState.Closed, side.Reading.State));
    }

    [Fact]
    public void Beyond_the_reach_of_a_small_lamp_nothing_is_called_closed()
    {
        // The lamp ends at x = 40; the piece is cut through all over.
        BackLitPhotos photos = BackLitPhotos.Of(Thin with { Lamp = (x, _) => x < 40 ? 1.9 : 0.01 });

        Assert.All(photos.Sides.Where(side => side.Cell.Column == 4), side => Assert.Equal(SideState.Unseen, side.Reading.State));
    }

    [Fact]
    public void Without_a_thickness_dark_sides_stay_unseen_and_the_photo_says_why()
    {
        BackLitPhotos photos = BackLitPhotos.Of(
            Thin.OfThickness(planMm: null, trueMm: 1) with { Cut = cell => CutCell.Of(cell.Column < 3 ? CutSide.Open : CutSide.Closed) });

        Assert.All(photos.Sides.Where(side => side.Cell.Column >= 3), side => Assert.Equal(SideState.Unseen, side.Reading.State));
        Assert.All(photos.Sides.Where(side => side.Cell.Column < 3), side => Assert.Equal(SideState.Open, side.Reading.State));
        Assert.Contains("thickness-missing", photos.WarningCodes);
    }

    [Fact]
    public void Without_a_focal_length_the_photo_says_that_one_was_assumed()
    {
        Outcome<SeenCard> outcome = BackLitPhotos.Read([Thin], new(), withFocalLength: false);

        Assert.Contains(outcome.Value.Reading.Photos[0].Warnings, warning => warning.Code == "focal-length-assumed");
    }

    [Theory]
    [InlineData(30, 25, "lower right")]
    [InlineData(90, 25, "lower left")]
    [InlineData(90, 75, "upper left")]
    public void The_warning_sends_the_phone_to_the_quarter_with_most_unseen_sides(double overX, double overY, string quarter)
    {
        BackLitPhotos photos = BackLitPhotos.Of(Thick.SeenFrom(overX, overY));

        Warning unseen = Assert.Single(photos.Warnings, warning => warning.Code == "sides-unseen");
        Assert.Contains($"centre the phone over the card's {quarter} quarter", unseen.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_card_in_front_light_has_char_but_no_sides()
    {
        BackLitPhotos photos = BackLitPhotos.Of(FrontLit);

        Assert.Equal(Light.Front, photos.Reading.Photos[0].Light);
        Assert.Contains("front-lit-cut", photos.WarningCodes);
        Assert.All(photos.Reading.Cells, cell => Assert.Null(cell.Sides));
        double[] halos = [.. Enumerable.Range(0, 5)
            .Select(column => photos.Reading.Cells.Where(cell => cell.Column == column).Average(cell => cell.HaloMm!.Value))];
        Assert.Equal(halos.Order(), halos);
        Assert.True(halos[4] > halos[0] + 0.5);
    }

    [Fact]
    public void An_overexposed_white_table_is_no_lamp()
    {
        // Around the card it is at the top of the scale; under the card lies its shadow.
        BackLitScene table = FrontLit with { Lamp = (x, y) => x is > 0 and < 120 && y is > 0 and < 100 ? 0.05 : 1.3 };

        BackLitPhotos photos = BackLitPhotos.Of(table);

        Assert.Contains("front-lit-cut", photos.WarningCodes);
        Assert.All(photos.Reading.Cells, cell => Assert.Null(cell.Sides));
        Assert.Equal("no-light-behind", BackLitPhotos.Read([table], new() { Light = Light.Back }).Refusal?.Code);
    }

    [Fact]
    public void Back_light_that_was_asked_for_and_is_not_there_is_refused()
    {
        Outcome<SeenCard> outcome = BackLitPhotos.Read([FrontLit], new() { Light = Light.Back });

        Assert.Equal("no-light-behind", outcome.Refusal?.Code);
    }

    /// <summary>The same card on a dark table in the light of the room; char grows from column to column.</summary>
    private static BackLitScene FrontLit => Thick with
    {
        Room = Thick.Room with { Exposure = 1 },
        Lamp = (_, _) => 0.08,
        HaloMm = cell => 0.1 + 0.1 * cell.Column,
    };

    private static CutCell TwoToOne(double acrossX, double acrossY)
    {
        CutSide upright = new() { ThroughMm = acrossX, FaceMm = 1.3 * acrossX },
            level = new() { ThroughMm = acrossY, FaceMm = 1.3 * acrossY };
        return new(upright, upright, level, level);
    }

    private static CutCell With(CellSide side, CutSide cut) => new(
        side == CellSide.Left ? cut : CutSide.Open,
        side == CellSide.Right ? cut : CutSide.Open,
        side == CellSide.Top ? cut : CutSide.Open,
        side == CellSide.Bottom ? cut : CutSide.Open);

    /// <summary>Distance of a side's path from the lens's foot, across the path, mm.</summary>
    private static double AcrossMm(Cell cell, CellSide side, (double X, double Y) foot) => Math.Abs(side switch
    {
        CellSide.Left => cell.XMm - foot.X,
        CellSide.Right => cell.XMm + cell.WidthMm - foot.X,
        CellSide.Top => cell.YMm - foot.Y,
        _ => cell.YMm + cell.HeightMm - foot.Y,
    });
}
