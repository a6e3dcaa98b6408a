using CardScan.Model;
using CardScan.Vision.Tests.BackLight;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>What tests/CardScan.Robustness found to be silently wrong, each reduced to its cause.</summary>
public sealed class FoundByTheGeneratorTests
{
    [Fact]
    public void Red_material_whose_red_is_at_the_top_of_the_scale_is_refused_though_its_green_is_not()
    {
        // Red carries two thirds of this board's luminance; it is at 1.3, green at 0.19.
        Refusal refusal = Photographed.RefusalOf(new Scene { Bare = (1.3, 0.19, 0.16) });

        Assert.Equal("overexposed", refusal.Code);
    }

    [Fact]
    public void Pale_wood_whose_red_alone_is_just_at_the_top_of_the_scale_is_measured()
    {
        Photographed wood = Photographed.Of(new Scene { Bare = (0.99, 0.78, 0.51) });

        wood.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.015);
    }

    [Theory]
    [InlineData(6, 4)]
    [InlineData(9, 9)]
    public void Grain_as_coarse_as_the_cells_is_in_their_stated_errors(double lengthMm, double widthMm)
    {
        Scene scene =
            new() { Light = (x, y) => Math.Exp(0.06 * Streaks.At(x * Streaks.LengthMm / lengthMm, y * Streaks.WidthMm / widthMm)) };

        Photographed grained = Photographed.Of(scene);

        double[] inErrors = [.. grained.Usable.Select(cell => grained.DarknessError(cell) / cell.Darkness!.StandardError)];
        Assert.InRange(inErrors.Max(Math.Abs), 0, 4);
        Assert.InRange(Math.Sqrt(inErrors.Average(error => error * error)), 0.4, 1.6);
    }

    [Theory]
    [InlineData(12, 0)]
    [InlineData(16, 140)]
    public void A_tilted_photo_that_does_not_tell_its_focal_length_calls_no_open_side_closed(double tiltDeg, double rollDeg)
    {
        // The lens is twice as long as the usual one, so that the phone stood twice as far and twice as much to the side as that says.
        BackLitScene tilted = new BackLitScene().OfThickness(planMm: 2.5, trueMm: 2.5);
        tilted = tilted with { Room = tilted.Room with { Camera = tilted.Room.Camera with { TiltDeg = tiltDeg, RollDeg = rollDeg } } };

        Reading reading = BackLitPhotos.Read([tilted], new VisionOptions(), withFocalLength: false).Value.Reading;

        BackLitPhotos photos = new(tilted, reading);
        Assert.DoesNotContain(photos.Sides, side => side.Reading.State == SideState.Closed);
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Unseen);
    }

    [Theory]
    [InlineData(0.8)]
    [InlineData(1.1)]
    public void A_side_whose_light_blur_leaves_too_faint_is_not_called_closed(double blurPx)
    {
        // Every second row's kerfs are narrower than the others, by as much as the beam's chance; near the limit of the
        // view their light is thin.
        CutSide wide = new() { ThroughMm = 0.34, FaceMm = 0.42 }, narrow = new() { ThroughMm = 0.30, FaceMm = 0.39 };
        BackLitScene aslant = new BackLitScene { BlurPx = blurPx, Cut = cell => CutCell.Of(cell.Row % 2 == 0 ? wide : narrow) }
            .OfThickness(planMm: 3.3, trueMm: 3.3);

        BackLitPhotos photos = BackLitPhotos.Of(aslant);

        Assert.DoesNotContain(photos.Sides, side => side.Reading.State == SideState.Closed);
        Assert.Contains(photos.Sides, side => side.Reading.State == SideState.Open);
    }

    [Fact]
    public void A_fit_of_a_spot_of_light_that_goes_astray_opens_no_more_than_the_light_shows()
    {
        BackLitScene tilted = new BackLitScene { Cut = _ => CutCell.Of(new() { FaceMm = 0.39, Bridges = [new(5.1, 3.7)] }) }
            .OfThickness(planMm: 3.2, trueMm: 3.2);
        foreach (double rollDeg in (double[])[-120, -60, 30, 120])
        {
            BackLitScene turned =
                tilted with { Room = tilted.Room with { Camera = tilted.Room.Camera with { TiltDeg = 9, RollDeg = rollDeg } } };

            Assert.DoesNotContain(BackLitPhotos.Of(turned).Sides, side => side.Reading.State == SideState.Open);
        }
    }

    [Fact]
    public void The_kerf_of_a_photo_that_does_not_tell_its_focal_length_is_right_or_not_told()
    {
        BackLitScene scene = new BackLitScene().OfThickness(planMm: 2.5, trueMm: 2.5);

        CardKerf? kerf = BackLitPhotos.Read([scene], new VisionOptions(), withFocalLength: false).Value.Reading.Kerf;

        foreach (Measured across in new[] { kerf?.AcrossXMm, kerf?.AcrossYMm }.OfType<Measured>())
            Assert.InRange(across.Value, 0.3 - 3 * across.StandardError, 0.3 + 3 * across.StandardError);
    }

    [Fact]
    public void A_wide_reflection_is_in_the_stated_errors_of_the_cells_under_it_and_of_the_scale()
    {
        // 16 % of bare material's light in the middle: no edge tells of it, but the wood is paler there.
        Photographed veiled = Photographed.Of(new Scene { Glare = new(60, 45, SpreadMm: 35, Strength: 0.08) });

        double shared = veiled.Photo.Quality!.DarknessScaleError!.Value;
        Assert.True(shared > PhotoQuality.UsualDarknessScaleError);
        // What all cells have of the veil is in the error that they share, the rest in their own.
        Assert.All(veiled.Usable, cell => Assert.InRange(Math.Abs(veiled.DarknessError(cell)), 0,
            Math.Max(0.05, 2 * Math.Sqrt(Math.Pow(cell.Darkness!.StandardError, 2) + Math.Pow(shared * cell.Darkness.Value, 2)))));
    }

    [Fact]
    public void Coloured_material_without_a_reflection_keeps_its_small_errors()
    {
        Photographed shaded = Photographed.Of(new Scene { Light = (x, _) => 1 - 0.004 * x });

        Assert.Equal(PhotoQuality.UsualDarknessScaleError, shaded.Photo.Quality!.DarknessScaleError!.Value, 0.005);
        Assert.InRange(shaded.Usable.Max(cell => cell.Darkness!.StandardError), 0, 0.01);
    }

    [Fact]
    public void Mottles_smaller_than_the_cells_are_in_their_stated_errors()
    {
        double[] inErrors = [.. new[] { 0.0, 137, 291, 403 }.SelectMany(board =>
        {
            Photographed mottled = Photographed.Of(
                new Scene
                {
                    Light = (x, y) => Math.Exp(0.12 * Streaks.At((x + board) * Streaks.LengthMm / 3, (y + board) * Streaks.WidthMm / 2))
                });
            return mottled.Usable.Select(cell => mottled.DarknessError(cell) / cell.Darkness!.StandardError);
        })];

        Assert.InRange(Math.Sqrt(inErrors.Average(error => error * error)), 0.5, 1.25);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.4)]
    public void A_lamp_mirrored_between_the_cuts_of_a_card_before_a_lamp_is_no_cut_elsewhere(double strength)
    {
        BackLitScene mirrored = new();
        mirrored = mirrored with { Room = mirrored.Room with { Glare = new(52, 32, SpreadMm: 6, strength) } };

        BackLitPhotos photos = BackLitPhotos.Of(mirrored);

        Assert.DoesNotContain(photos.Sides, side => side.Reading.State == SideState.Closed);
    }

    [Theory]
    [InlineData(8, 0, false)]
    [InlineData(0, 8.5, false)]
    [InlineData(8, 8.5, false)]
    [InlineData(8, 8.5, true)]
    public void Cuts_off_by_half_the_grids_pitch_are_refused_with_a_lamp_mirrored_beside_them_too(double xMm, double yMm, bool isMirrored)
    {
        BackLitScene scene = new();
        if (isMirrored) scene = scene with { Room = scene.Room with { Glare = new(52, 32, SpreadMm: 6, Strength: 0.1) } };
        PlanFile other = scene.Room.Plan with
        {
            Plan = scene.Room.Plan.Plan with
            {
                Cells = [.. scene.Room.Plan.Plan.Cells.Select(cell => cell with { XMm = cell.XMm - xMm, YMm = cell.YMm - yMm })]
            }
        };

        Outcome<SeenCard> outcome = OneCard.Read([new PhotoFile("cut.jpg", BackLitPhotos.Jpeg(scene))], other, new VisionOptions());

        Assert.Equal("cells-misplaced", outcome.Refusal?.Code);
    }
}
