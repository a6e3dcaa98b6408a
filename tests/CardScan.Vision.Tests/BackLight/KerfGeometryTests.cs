using CsCheck;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>The closed form of what is seen through a kerf, against single rays.</summary>
public sealed class KerfGeometryTests
{
    private const int Rays = 4000;

    /// <summary>Far enough for rays to be parallel: 3 mm of thickness then change the scale by three millionths.</summary>
    private const double VeryFarMm = 1e6;

    private static readonly Gen<(double Through, double Flare, double Thickness)> AnyKerf =
        Gen.Select(Gen.Double[0.03, 0.6], Gen.Double[1, 2.5], Gen.Double[0.5, 12]);

    [Fact]
    public void Parallel_rays_see_what_the_formula_says() =>
        Gen.Select(AnyKerf, Gen.Double[-15, 15], Gen.Double[-20, 20]).Sample((kerf, acrossDeg, alongDeg) =>
        {
            double face = kerf.Through * kerf.Flare;
            (double X, double Y, double Z) lens = (VeryFarMm * Tan(acrossDeg), VeryFarMm * Tan(alongDeg), VeryFarMm);
            double counted = TwoPlanes.Kerf(kerf.Through, face, kerf.Thickness).WidthSeen(lens, y: 0, face / 2, Rays);

            double stated = KerfGeometry.VisibleWidth(kerf.Through, face, kerf.Thickness * Tan(acrossDeg));

            return Math.Abs(stated - counted) < 2 * face / Rays + 1e-4;
        });

    [Fact]
    public void From_a_phones_distance_the_formula_is_off_by_no_more_than_the_thickness_over_the_distance() =>
        Gen.Select(AnyKerf, Gen.Double[-80, 80], Gen.Double[-80, 80], Gen.Double[150, 500]).Sample((kerf, lensX, lensY, height) =>
        {
            double face = kerf.Through * kerf.Flare;
            double counted = TwoPlanes.Kerf(kerf.Through, face, kerf.Thickness).WidthSeen((lensX, lensY, height), y: 0, face / 2, Rays);

            double stated = KerfGeometry.VisibleWidth(kerf.Through, face, kerf.Thickness * lensX / height);

            return Math.Abs(stated - counted) < face * kerf.Thickness / height + 2 * face / Rays;
        });

    [Fact]
    public void Width_of_the_light_gives_the_kerf_back_wherever_light_is_seen() =>
        Gen.Select(AnyKerf, Gen.Double[-15, 15]).Sample((kerf, angleDeg) =>
        {
            double shift = kerf.Thickness * Tan(angleDeg);
            double seen = KerfGeometry.VisibleWidth(kerf.Through, kerf.Through * kerf.Flare, shift);

            return seen == 0 || Math.Abs(KerfGeometry.ThroughWidth(seen, kerf.Flare, shift) - kerf.Through) < 1e-12;
        });

    [Theory]
    [InlineData(0, 0.15)]
    [InlineData(1, 0.0976)] // 0.15 − 3 tan 1°
    [InlineData(2, 0.0452)]
    [InlineData(2.8, 0.0033)]
    [InlineData(2.9, 0)] // atan(0.15 / 3) = 2.862°
    [InlineData(-2.9, 0)]
    [InlineData(11, 0)]
    public void A_straight_kerf_of_015_in_3_mm_goes_dark_at_3_degrees(double angleDeg, double widthMm)
    {
        (double X, double Y, double Z) lens = (VeryFarMm * Tan(angleDeg), 0, VeryFarMm);

        Assert.Equal(widthMm, TwoPlanes.Kerf(0.15, 0.15, 3).WidthSeen(lens, y: 0, reachMm: 0.075, Rays), 2e-4);
        Assert.Equal(widthMm, KerfGeometry.VisibleWidth(0.15, 0.15, 3 * Tan(angleDeg)), 1e-4);
    }

    [Theory]
    [InlineData(0.15, 0.25, 3, 3.8)] // atan(0.40 / 6) = 3.814°
    [InlineData(0.30, 0.40, 3, 6.65)] // atan(0.70 / 6) = 6.654°
    [InlineData(0.20, 0.20, 6, 1.90)] // atan(0.20 / 6) = 1.909°
    public void A_kerf_that_widens_towards_the_burned_face_shows_light_up_to_half_the_sum_of_its_widths(double throughMm, double faceMm,
        double thicknessMm, double lastDeg)
    {
        Assert.True(KerfGeometry.VisibleWidth(throughMm, faceMm, thicknessMm * Tan(lastDeg)) > 0);
        Assert.Equal(0, KerfGeometry.VisibleWidth(throughMm, faceMm, thicknessMm * Tan(lastDeg + 0.02)));
    }

    private static double Tan(double degrees) => Math.Tan(degrees * Math.PI / 180);
}
