using CardScan.Model;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>
/// Cut cards whose light is smeared, cut off at the top of the scale, or seen from who knows where: what cannot
/// be told apart is unseen.
/// </summary>
public sealed class SmearedLightTests
{
    private static readonly BackLitScene Thin = new BackLitScene().OfThickness(planMm: 1, trueMm: 1);

    /// <summary>Held over half of every side, a bridge in the middle of it or at its end.</summary>
    private static CutCell Held(Cell cell) =>
        CutCell.Of(new CutSide { ThroughMm = 0.25, FaceMm = 0.33, Bridges = [new(2 + cell.Column, 3.5)] });

    [Theory]
    [InlineData(2.4)]
    [InlineData(3.2)]
    public void Blur_that_fills_the_groove_leaves_half_open_sides_unseen_and_never_closed(double blurPx)
    {
        // 3.2 px at 8 px/mm are 0.4 mm; the scan looks 0.6 mm to each side of the path.
        BackLitPhotos photos = BackLitPhotos.Of(Thin with { Cut = Held, BlurPx = blurPx });

        Assert.All(photos.Sides, side => Assert.Contains(side.Reading.State, new[] { SideState.Partial, SideState.Unseen }));
    }

    [Theory]
    [InlineData(0.45)]
    [InlineData(0.6)]
    public void In_a_photo_so_bright_that_the_lamp_hardly_outshines_the_card_its_light_is_known_by_its_shape(double exposure)
    {
        // Bare material of luminance 0.51 at exposure 1; the lamp, 1.9, is cut off at 1.
        BackLitScene bright = Thin with
        {
            Room = Thin.Room with { Exposure = exposure / 0.51 },
            Cut = cell => cell.Row < 2 ? CutCell.Of(CutSide.Open) : cell.Column < 2 ? Held(cell) : CutCell.Of(CutSide.Closed),
            Noise = 0.01,
        };

        BackLitPhotos photos = BackLitPhotos.Of(bright);

        Assert.Equal(Light.Back, photos.Reading.Photos[0].Light);
        // How far beyond the scale the lamp is, and with it how wide its slits are, nobody can tell.
        Assert.Null(photos.Reading.Kerf);
        Assert.All(photos.Sides.Where(side => side.Cell.Row < 2), side => Assert.Equal(SideState.Open, side.Reading.State));
        Assert.All(photos.Sides.Where(side => side.Cell is { Row: >= 2, Column: < 2 }),
            side => Assert.Equal(SideState.Partial, side.Reading.State));
        Assert.All(photos.Sides.Where(side => side.Cell is { Row: >= 2, Column: >= 2 }),
            side => Assert.Equal(SideState.Closed, side.Reading.State));
    }

    [Theory]
    [InlineData(0.04, 1.2, 0.004)]
    [InlineData(0.04, 1.4, 0.004)]
    [InlineData(0.04, 1.4, 0.015)]
    [InlineData(0.05, 1.4, 0.015)]
    [InlineData(0.06, 1.2, 0.015)]
    public void A_thread_of_light_that_hardly_shows_ends_in_no_bridge(double throughMm, double blurPx, double noise)
    {
        // At 7 px/mm, a third to half a pixel of light: its ends lie where it fades below what counts as lit.
        BackLitScene scene = new BackLitScene().OfThickness(planMm: 3, trueMm: 3) with
        {
            BlurPx = blurPx, Noise = noise, Cut = _ => CutCell.Of(new CutSide { ThroughMm = throughMm, FaceMm = 0.25 }),
        };
        BackLitPhotos photos = BackLitPhotos.Of(scene with
        {
            Room = scene.Room with { Camera = BackLitScene.StraightOn with { DistanceMm = 343 }, Exposure = 0.285 },
        });

        Assert.DoesNotContain(photos.Sides, side => side.Reading.State is SideState.Partial or SideState.Closed);
        Assert.InRange(photos.Sides.Count(side => side.Reading.State == SideState.Open), 32, 80);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.2)]
    public void A_bright_photo_without_a_lamp_is_not_taken_for_a_back_lit_one(double noise)
    {
        BackLitScene front = Thin with { Room = Thin.Room with { Exposure = 0.65 / 0.51 }, Lamp = (_, _) => 0.05, Noise = 0.65 * noise };

        Outcome<SeenCard> read = BackLitPhotos.Read([front], new VisionOptions());

        Assert.True(read.IsRefused || read.Value.Reading.Photos[0].Light == Light.Front);
    }

    [Fact]
    public void Between_sides_that_shine_a_dark_one_is_closed_whatever_the_focal_length()
    {
        // Open in the outer rows and columns, held or closed within: seen from over the middle, light comes from both sides of those.
        static bool IsInner(Cell cell) => cell is { Row: 1 or 2, Column: 1 or 2 or 3 };
        BackLitScene scene = Thin with { Cut = cell => IsInner(cell) ? CutCell.Of(CutSide.Closed) : CutCell.Of(CutSide.Open) };

        Outcome<SeenCard> read = BackLitPhotos.Read([scene], new VisionOptions(), withFocalLength: false);

        Assert.False(read.IsRefused, read.Refusal?.ToString());
        BackLitPhotos photos = new(scene, read.Value.Reading);
        Assert.Contains("focal-length-assumed", photos.WarningCodes);
        Assert.All(photos.Sides.Where(side => IsInner(side.Cell)), side => Assert.Equal(SideState.Closed, side.Reading.State));
        Assert.All(photos.Sides.Where(side => !IsInner(side.Cell)), side => Assert.Equal(SideState.Open, side.Reading.State));
    }

    [Fact]
    public void Beyond_the_last_side_that_shines_nothing_is_closed_for_want_of_a_focal_length()
    {
        // Three millimetres, open all over: what is dark is dark because the view is too slanted.
        BackLitScene scene = new() { Cut = _ => CutCell.Of(CutSide.Open) };

        Outcome<SeenCard> read = BackLitPhotos.Read([scene], new VisionOptions(), withFocalLength: false);

        Assert.False(read.IsRefused, read.Refusal?.ToString());
        Assert.All(new BackLitPhotos(scene, read.Value.Reading).Sides,
            side => Assert.Contains(side.Reading.State, new[] { SideState.Open, SideState.Unseen }));
    }
}
