using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Rendered photos whose truth is known: the perfect one first, then one disturbance at a time.</summary>
public sealed class TruthByConstructionTests
{
    [Fact]
    public void The_perfect_picture_is_read_without_error()
    {
        Photographed perfect = Photographed.Of(new Scene());

        perfect.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.002);
        Assert.Empty(perfect.Photo.Warnings);
        Assert.All(perfect.Reading.Cells, cell => Assert.Empty(cell.Flags));
        Assert.Equal(perfect.Scene.Camera.PxPerMm, perfect.Photo.PxPerMm!.Value, 0.01);
        Assert.InRange(perfect.Photo.TiltDeg!.Value, 0, 0.3);
        Assert.InRange(perfect.Photo.ReprojectionRmsPx!.Value, 0, 0.02);
        Assert.All(perfect.Reading.Cells, cell => Assert.InRange(cell.Evenness!.Value, 0.99, 1));
        Assert.All(perfect.Reading.Cells, cell => Assert.InRange(cell.HaloMm!.Value, 0, 0.2));
    }

    [Fact]
    public void Contrast_and_darkness_are_two_views_of_one_ratio()
    {
        // Weber contrast (L − Lb)/Lb and density −log10(L/Lb): a fifth of the luminance is −0.8 and 0.69897.
        Photographed fifth = Photographed.Of(new Scene { Darkness = _ => Math.Log10(5) });

        Assert.All(fifth.Reading.Cells, cell => Assert.Equal(-0.8, cell.Contrast!.Value, 0.002));
        Assert.All(fifth.Reading.Cells, cell => Assert.Equal(0.69897, cell.Darkness!.Value, 0.003));
    }

    [Theory]
    [InlineData(0.5, 0.3010299957)]
    [InlineData(0.1, 1)]
    [InlineData(0.05, 1.3010299957)]
    public void Darkness_is_the_density_of_the_standard(double ratio, double density)
    {
        // D = −log10(R), ISO 5-4. One 8-bit code at R = 0.05 is 0.015 in D, so rounding alone may cost half of that.
        Photographed photo = Photographed.Of(new Scene { Darkness = _ => -Math.Log10(ratio), Bare = (0.8, 0.8, 0.8) });

        Assert.All(photo.Reading.Cells, cell => Assert.Equal(density, cell.Darkness!.Value, 0.008));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(25)]
    [InlineData(35)]
    public void A_tilted_photo_tells_its_tilt_and_loses_nothing(double tiltDeg)
    {
        Photographed tilted = Photographed.Of(new Scene { Camera = new() { TiltDeg = tiltDeg, RollDeg = 8 } });

        tilted.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.004);
        Assert.Equal(tiltDeg, tilted.Photo.TiltDeg!.Value, 0.5);
    }

    [Fact]
    public void A_steep_photo_is_measured_with_a_warning()
    {
        Photographed steep = Photographed.Of(new Scene { Camera = new() { TiltDeg = 50, DistanceMm = 190 } });

        Assert.Contains("tilted", steep.WarningCodes);
        steep.ShowsEveryCellWithin(placeMm: 0.02, darkness: 0.015);
    }

    [Theory]
    [InlineData(-0.03)]
    [InlineData(0.02)]
    public void Lens_distortion_does_not_move_the_cells(double k1)
    {
        Photographed bent = Photographed.Of(new Scene { Camera = new() { K1 = k1, RollDeg = -5, DistanceMm = 140 } });

        bent.ShowsEveryCellWithin(placeMm: 0.02, darkness: 0.003);
    }

    [Fact]
    public void Shade_across_the_card_leaves_darkness_as_it_is()
    {
        // From 1.3 to 0.4 of the light, as from a lamp at the left.
        Photographed shaded = Photographed.Of(new Scene { Light = (x, y) => 1.3 * Math.Exp(-x / 105) * (1 - y / 1000) });

        shaded.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.005);
        Assert.Empty(shaded.Photo.Warnings);
    }

    [Theory]
    [InlineData(1, 0.01)]
    [InlineData(2, 0.02)]
    [InlineData(3, 0.06)]
    public void Blur_changes_no_darkness_and_moves_no_cell_far(double blurPx, double placeMm)
    {
        Photographed blurred = Photographed.Of(new Scene { BlurPx = blurPx });

        blurred.ShowsEveryCellWithin(placeMm, darkness: 0.003);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.14)]
    public void Char_around_the_markers_moves_no_cell(double bleedMm)
    {
        Photographed bled = Photographed.Of(new Scene { MarkerBleedMm = bleedMm, Camera = new() { TiltDeg = 12 } });

        bled.ShowsEveryCellWithin(placeMm: 0.02, darkness: 0.004);
    }

    [Fact]
    public void Material_that_gets_lighter_is_read_and_its_darkness_is_negative()
    {
        Photographed lighter = Photographed.Of(new Scene
        {
            Bare = (0.06, 0.06, 0.065),
            MarkerRatio = 7,
            Darkness = cell => -0.1 - 0.12 * cell.Column,
        });

        lighter.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.008);
        Assert.All(lighter.Reading.Cells, cell => Assert.True(cell.Darkness!.Value < 0));
    }

    [Theory]
    [InlineData(90)]
    [InlineData(180)]
    [InlineData(270)]
    public void A_card_lying_otherwise_is_read_the_same(double rollDeg)
    {
        Photographed turned = Photographed.Of(new Scene { Camera = new() { RollDeg = rollDeg, DistanceMm = 175 } });

        turned.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.003);
    }

    [Fact]
    public void Grain_costs_accuracy_as_much_as_the_stated_error_says()
    {
        Photographed grained = Photographed.Of(new Scene { Grain = 0.06, Noise = 0.004 }, jpegQuality: 92);

        grained.ShowsEveryCellWithin(placeMm: 0.03, darkness: 0.05);
        double rms = Math.Sqrt(grained.Usable.Average(cell => Math.Pow(grained.DarknessError(cell), 2)));
        double stated = Math.Sqrt(grained.Usable.Average(cell => Math.Pow(cell.Darkness!.StandardError, 2)));
        Assert.InRange(rms, 0, 0.015);
        Assert.InRange(rms / stated, 0.4, 1.6);
    }

    [Fact]
    public void Noise_and_an_ordinary_JPEG_cost_next_to_nothing()
    {
        Photographed ordinary = Photographed.Of(new Scene { Noise = 0.01, BlurPx = 0.8 }, jpegQuality: 85);

        ordinary.ShowsEveryCellWithin(placeMm: 0.03, darkness: 0.006);
    }

    [Fact]
    public void All_at_once_stays_within_the_targets()
    {
        Photographed photo = Photographed.Of(
            new Scene
            {
                Camera = new() { TiltDeg = 18, RollDeg = 7, K1 = -0.015 },
                Light = (x, y) => 1.1 * Math.Exp(-x / 200 - y / 400),
                BlurPx = 1.2,
                MarkerBleedMm = 0.1,
                Grain = 0.03,
                Noise = 0.006,
            },
            jpegQuality: 88);

        double placeRms = Math.Sqrt(photo.Usable.Average(cell => Math.Pow(photo.PlaceErrorMm(cell), 2)));
        double darknessRms = Math.Sqrt(photo.Usable.Average(cell => Math.Pow(photo.DarknessError(cell), 2)));
        Assert.Equal(20, photo.Usable.Count());
        Assert.InRange(placeRms, 0, 0.05);
        Assert.InRange(darknessRms, 0, 0.015);
    }
}
