using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Light that is added where light should multiply, told by what does not change between corners of a card.</summary>
public sealed class VeilingGlareTests
{
    /// <summary>Dark glossy board: no colour that a white veil could take.</summary>
    private static readonly Scene Grey = new()
    {
        Bare = (0.40, 0.41, 0.42),
        MarkerRatio = 0.12,
        Noise = 0.004,
        Darkness = cell => 0.1 + 0.15 * cell.Column + 0.03 * cell.Row
    };

    [Theory]
    [InlineData(30, 25, 30)]
    [InlineData(95, 40, 45)]
    [InlineData(20, 90, 40)]
    public void A_wide_reflection_on_grey_material_is_in_the_stated_errors_and_is_told(double x, double y, double spreadMm)
    {
        Photographed veiled = Photographed.Of(Grey with { Glare = new(x, y, spreadMm, Strength: 0.09) });

        Assert.Contains("veil", veiled.WarningCodes);
        Assert.All(ContrastErrors(veiled), cell => Assert.InRange(Math.Abs(cell.Error), 0, Math.Max(0.05, 4 * cell.Stated)));
        // So it does not without the stated share of the veil: by chance alone the errors would be some thousandths.
        Assert.InRange(ContrastErrors(veiled).Max(cell => Math.Abs(cell.Error)), 0.03, 0.2);
    }

    [Fact]
    public void A_lens_that_loses_light_towards_the_corners_is_no_veil()
    {
        TestCamera camera = Grey.Camera;
        double halfDiagonal = Math.Sqrt(camera.WidthPx * camera.WidthPx + camera.HeightPx * camera.HeightPx) / 2.0;

        HasNoVeil(Photographed.Of(Grey with
        {
            Light = (x, y) =>
            {
                (double px, double py) = camera.ToPhoto(x, y);
                return 1 - 0.45 * (Math.Pow(px - camera.WidthPx / 2.0, 2) + Math.Pow(py - camera.HeightPx / 2.0, 2))
                    / (halfDiagonal * halfDiagonal);
            },
        }));
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(-0.7)]
    public void A_lamp_at_one_side_is_no_veil(double steepness)
    {
        Photographed aside = Photographed.Of(Grey with { Light = (x, y) => 0.8 * Math.Exp(steepness * (x + 0.5 * y - 85) / 170) });

        Assert.DoesNotContain("veil", aside.WarningCodes);
        Assert.Equal(PhotoQuality.UsualDarknessScaleError, aside.Photo.Quality!.DarknessScaleError!.Value, 0.005);
    }

    [Fact]
    public void A_shadow_that_the_markers_show_to_be_one_is_no_veil()
    {
        Photographed shadowed = Photographed.Of(Grey with { Light = (x, _) => 1 - 0.4 / (1 + Math.Exp(-(x - 60) / 12)) });

        Assert.DoesNotContain("veil", shadowed.WarningCodes);
    }

    [Fact]
    public void Where_light_differs_over_the_card_a_tone_curve_is_in_the_cells_errors()
    {
        // Marks lighter than bare material, which reach the curve's shoulder where the light is bright.
        Scene scene = new()
        {
            Bare = (0.09, 0.09, 0.09),
            MarkerRatio = 7,
            Noise = 0.001,
            Darkness = cell => -0.3 - 0.13 * cell.Column,
            Light = (x, _) => Math.Exp(1.0 * (x - 60) / 120)
        };
        byte[] photo = SceneRenderer.Render(scene).Toned(linear =>
        {
            double code = Math.Pow(Math.Clamp(linear, 0, 1), 1 / 2.2);
            return Math.Pow(code + 0.25 * code * (1 - code) * (2 * code - 1), 2.2);
        }).ToPng();

        Photographed toned = new(scene, Photographed.Read(photo, scene.Plan).Value.Reading);

        Assert.All(ContrastErrors(toned), cell => Assert.InRange(Math.Abs(cell.Error), 0, 4 * Math.Max(cell.Stated, 0.01)));
        // The same curve in even light stretches all cells alike, which is stated once for all of them.
        Photographed even = Photographed.Of(scene with { Light = (_, _) => 1 });
        Assert.InRange(
            even.Usable.Average(cell => cell.Darkness!.StandardError), 0, toned.Usable.Average(cell => cell.Darkness!.StandardError) / 3);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(1)]
    public void Markers_give_back_the_share_of_the_light_that_is_veil(double share)
    {
        // Worked by hand: r = 0.15 under light of which s is veil is seen as r + (1 − r) s.
        double[] logs = [0, 0.1, 0.2, 0.3];
        MarkerMark[] marks = [.. logs.Select((log, i) => new MarkerMark(new(i, 0), 0.15 + 0.85 * share * (1 - Math.Exp(-log)), 0.001))];

        VeilingGlareShare told = VeilingGlareShare.Of(marks, place => logs[(int)place.X]);

        Assert.Equal(share, told.Best, 1e-9);
        Assert.InRange(told.Error, 0.02, 0.15);
        Assert.InRange(told.Sure, Math.Max(0, share - 0.15), share);
        Assert.InRange(told.Open, share == 0 ? 0 : share - 0.2, share + 0.15);
    }

    [Fact]
    public void Markers_in_even_light_or_alone_leave_everything_open()
    {
        MarkerMark one = new(new(0, 0), 0.15, 0.001);

        Assert.Equal(VeilingGlareShare.Unknown, VeilingGlareShare.Of([one], _ => 0.2));
        Assert.Equal(VeilingGlareShare.Unknown, VeilingGlareShare.Of([one, one, one], _ => 0.2));
        Assert.Equal(0, VeilingGlareShare.Unknown.Sure);
        // Root mean square of a uniform distribution over 0 to 1: 1/√3.
        Assert.Equal(1 / Math.Sqrt(3), VeilingGlareShare.Unknown.Open, 0.005);
    }

    [Fact]
    public void An_overexposed_photo_is_refused_with_the_step_to_take()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { Exposure = 2.2 });

        Assert.Equal("overexposed", refusal.Code);
        Assert.Contains("one stop (−1 EV)", refusal.Remedy, StringComparison.Ordinal);
    }

    private static void HasNoVeil(Photographed photo)
    {
        Assert.DoesNotContain("veil", photo.WarningCodes);
        Assert.Equal(PhotoQuality.UsualDarknessScaleError, photo.Photo.Quality!.DarknessScaleError!.Value, 0.005);
        Assert.InRange(photo.Usable.Max(cell => cell.Darkness!.StandardError), 0, 0.01);
    }

    /// <summary>
    /// Errors of the cells' contrasts and the stated ones, the stretch that all share taken out: the photo states it apart.
    /// </summary>
    private static (double Error, double Stated)[] ContrastErrors(Photographed photo)
    {
        (double Seen, double True, double Stated)[] cells = [.. photo.Usable.Select(cell =>
            (cell.Darkness!.Value, cell.Darkness.Value - photo.DarknessError(cell), cell.Contrast!.StandardError))];
        double stretch = Robust.Median(cells.Where(cell => Math.Abs(cell.True) > 0.15).Select(cell => cell.Seen / cell.True));
        return [.. cells.Select(cell => (Math.Pow(10, -cell.Seen) - Math.Pow(10, -stretch * cell.True), cell.Stated))];
    }
}
