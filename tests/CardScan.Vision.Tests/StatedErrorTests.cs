using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Stated errors against computed truth, where what is wrong moves some cells of a photo and not others.</summary>
public sealed class StatedErrorTests
{
    /// <summary>A phone's curve: c + s c (1 − c)(2c − 1) of the code c.</summary>
    private static Func<double, double> Curve(double strength) => linear =>
    {
        double code = SrgbCurve.Code(Math.Clamp(linear, 0, 1));
        return SrgbCurve.Linear(code + strength * code * (1 - code) * (2 * code - 1));
    };

    [Theory]
    [InlineData(0.4)]
    [InlineData(0.25)]
    public void What_a_tone_curve_bends_in_even_bright_light_is_in_the_contrasts_error_and_not_in_that_of_darkness(double strength)
    {
        // Bare material just under the top, where the curve is flattest: faint marks shrink, strong ones grow.
        Scene scene = new() { Bare = (0.75, 0.65, 0.5), Noise = 0.002, Darkness = cell => 0.06 + 0.2 * cell.Column + 0.02 * cell.Row };
        Photographed bent = new(scene,
                Photographed.Read(SceneRenderer.Render(scene).Toned(Curve(strength)).ToPng(), scene.Plan).Value.Reading),
            plain = Photographed.Of(scene);

        (double Error, double Stated)[] errors = ContrastErrors(bent);
        Assert.InRange(errors.Max(cell => Math.Abs(cell.Error)), 0.02, 0.1);
        Assert.All(errors, cell => Assert.InRange(Math.Abs(cell.Error), 0, 4 * Math.Max(cell.Stated, 0.005)));

        // Cells are weighed by the error of darkness: it is that of a photo without a curve.
        Assert.InRange(Mean(bent) / Mean(plain), 0.7, 1.5);

        static double Mean(Photographed photo) => photo.Usable.Average(cell => cell.Darkness!.StandardError);
    }

    [Theory]
    [InlineData(0.84, 66, 0)]
    [InlineData(0.84, 60, 0.5)]
    [InlineData(0.8, 58, 0)]
    public void A_shadow_too_faint_to_be_flagged_is_in_the_errors_of_the_cells_that_its_edge_crosses(
        double shade, double atMm, double slope)
    {
        Photographed shadowed = Photographed.Of(new Scene { Noise = 0.01, Light = (x, y) => x + slope * y < atMm ? shade : 1 });

        Assert.All(shadowed.Usable,
            cell => Assert.InRange(Math.Abs(shadowed.DarknessError(cell)) / Math.Max(cell.Darkness!.StandardError, 0.005), 0, 3));
    }

    [Theory]
    [InlineData(62, 52, 25)]
    [InlineData(70, 45, 32)]
    public void A_wide_reflection_in_the_middle_of_grey_material_that_no_marker_lies_under_is_in_the_stated_errors(
        double x, double y, double spreadMm)
    {
        Scene grey = new()
        {
            Bare = (0.30, 0.31, 0.32),
            MarkerRatio = 0.12,
            Noise = 0.004,
            Darkness = cell => 0.1 + 0.15 * cell.Column + 0.03 * cell.Row
        };

        Photographed veiled = Photographed.Of(grey with { Glare = new(x, y, spreadMm, Strength: 0.07) });

        Assert.All(ContrastErrors(veiled), cell => Assert.InRange(Math.Abs(cell.Error), 0, Math.Max(0.05, 4 * cell.Stated)));
    }

    /// <summary>
    /// Errors of the cells' contrasts and the stated ones, the stretch that all share taken out: the photo states it apart.
    /// </summary>
    internal static (double Error, double Stated)[] ContrastErrors(Photographed photo)
    {
        (double Seen, double True, double Stated)[] cells = [.. photo.Usable.Select(cell =>
            (cell.Darkness!.Value, cell.Darkness.Value - photo.DarknessError(cell), cell.Contrast!.StandardError))];
        double stretch = Robust.Median(cells.Where(cell => Math.Abs(cell.True) > 0.15).Select(cell => cell.Seen / cell.True));
        return [.. cells.Select(cell => (Math.Pow(10, -cell.Seen) - Math.Pow(10, -stretch * cell.True), cell.Stated))];
    }
}
