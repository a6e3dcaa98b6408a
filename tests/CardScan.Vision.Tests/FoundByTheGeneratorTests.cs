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
        Scene scene = new() { Light = (x, y) => Math.Exp(0.06 * Streaks.At(x * Streaks.LengthMm / lengthMm, y * Streaks.WidthMm / widthMm)) };

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
}
