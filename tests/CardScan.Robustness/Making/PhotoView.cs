using CardScan.Calibration;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>Where the phone was, how light fell, and what lay over the card.</summary>
/// <param name="Camera">The phone.</param>
/// <param name="Light">Factor of the light at a point of the card, grain included.</param>
/// <param name="Glare">A reflection; null where there is none.</param>
/// <param name="Covers">Paper over the card.</param>
/// <param name="NoiseSeed">Of the sensor's noise.</param>
/// <param name="LampLevel">Light of the lamp behind a cut card; 1 is the photo's white.</param>
internal sealed record PhotoView(
    TestCamera Camera, Func<double, double, double> Light, GlareSpot? Glare, IReadOnlyList<CardRectangle> Covers,
    int NoiseSeed, double LampLevel)
{
    private const double WidthMm = 120, HeightMm = 100;

    public static PhotoView Draw(Recipe recipe, Chance chance)
    {
        TestCamera camera = CameraOf(recipe, chance);
        (double X, double Y) board = (500 * chance.Uniform(), 500 * chance.Uniform());
        Func<double, double, double> light = LightOf(recipe, camera, chance);
        SurfaceKind material = recipe.Material;
        return new(
            camera,
            LightMap.Of((x, y) => light(x, y) * material.GrainAt(x + board.X, y + board.Y)).At,
            GlareOf(recipe, chance),
            CoversOf(recipe, chance),
            (int)(1e9 * chance.Uniform()),
            1.6 + 0.9 * chance.Uniform());
    }

    /// <summary>A phone so far away that the scale is right, with a picture so large that the card is whole in it.</summary>
    private static TestCamera CameraOf(Recipe recipe, Chance chance)
    {
        double focalLength35Mm = recipe.IsCut ? 40 + 20 * chance.Uniform() : 26 + 24 * chance.Uniform();
        double bow = recipe.NameOf(Factors.Card).StartsWith("bowed", StringComparison.Ordinal)
            ? recipe.ValueOf(Factors.Card) * (chance.Uniform() < 0.5 ? -1 : 1)
            : 0;
        TestCamera camera = new()
        {
            FocalLength35Mm = Math.Round(focalLength35Mm),
            AimMm = (60 + 8 * (chance.Uniform() - 0.5), 50 + 8 * (chance.Uniform() - 0.5)),
            TiltDeg = recipe.ValueOf(Factors.Tilt) * (chance.Uniform() < 0.5 ? -1 : 1),
            RollDeg = recipe.ValueOf(Factors.Turn),
            K1 = chance.Uniform() < 0.6 ? 0 : 0.03 * (chance.Uniform() - 0.5), // most phones straighten their pictures
            HeightMm = bow == 0 ? null : (x, _) => bow * (1 - (2 * x / WidthMm - 1) * (2 * x / WidthMm - 1)),
        };
        for (int widthPx = 1200; ; widthPx += 100)
        {
            TestCamera trial = camera with { WidthPx = widthPx, HeightPx = widthPx * 3 / 4 };
            trial = trial with { DistanceMm = trial.FocalPx / recipe.ValueOf(Factors.Scale) };
            if (widthPx >= 4000 || IsWhole(trial)) return trial;
        }
    }

    private static bool IsWhole(TestCamera camera) =>
        new[] { (-3.0, -3.0), (WidthMm + 3, -3), (WidthMm + 3, HeightMm + 3), (-3, HeightMm + 3) }.All(corner =>
        {
            (double x, double y) = camera.ToPhoto(corner.Item1, corner.Item2);
            return x > 0 && y > 0 && x < camera.WidthPx - 1 && y < camera.HeightPx - 1;
        });

    private static Func<double, double, double> LightOf(Recipe recipe, TestCamera camera, Chance chance)
    {
        double severity = recipe.ValueOf(Factors.Light), angle = 2 * Math.PI * chance.Uniform(), place = chance.Uniform(),
            softness = chance.Uniform();
        (double X, double Y) along = (Math.Cos(angle), Math.Sin(angle));
        double Along(double x, double y) => (x - WidthMm / 2) * along.X + (y - HeightMm / 2) * along.Y;
        switch (recipe.NameOf(Factors.Light))
        {
            case "vignette":
                double half = Math.Sqrt(camera.WidthPx * camera.WidthPx + camera.HeightPx * camera.HeightPx) / 2.0;
                return (x, y) =>
                {
                    (double px, double py) = camera.ToPhoto(x, y);
                    double r = (Math.Pow(px - camera.WidthPx / 2.0, 2) + Math.Pow(py - camera.HeightPx / 2.0, 2)) / (half * half);
                    return 1 - severity * r;
                };
            case "gradient":
                return (x, y) => Math.Exp(Math.Log(severity) * Along(x, y) / 120);
            case "shadow's edge":
                double penumbraMm = 0.3 + 8 * softness * softness, atMm = 60 * (place - 0.5);
                return (x, y) => 1 - severity / (1 + Math.Exp(-4 * (Along(x, y) - atMm) / penumbraMm));
            default:
                return (_, _) => 1;
        }
    }

    /// <summary>A lamp mirrored somewhere over the card; a coat mirrors the room as well.</summary>
    private static GlareSpot? GlareOf(Recipe recipe, Chance chance)
    {
        double x = WidthMm * chance.Uniform(), y = HeightMm * chance.Uniform(), size = chance.Uniform(),
            veil = recipe.Material.Veil * chance.Uniform();
        return recipe.NameOf(Factors.Light) switch
        {
            "small reflection" => new(x, y, 4 + 8 * size, recipe.ValueOf(Factors.Light)),
            "wide reflection" => new(x, y, 20 + 40 * size, recipe.ValueOf(Factors.Light)),
            _ when veil > 0 => new(x, y, 80, veil),
            _ => null,
        };
    }

    private static CardRectangle[] CoversOf(Recipe recipe, Chance chance)
    {
        (double x, double y) = new[] { (4.0, 4.0), (106, 4), (106, 86), (4, 86) }[(int)(4 * chance.Uniform())];
        double size = 2 + 3 * chance.Uniform();
        return recipe.NameOf(Factors.Card) switch
        {
            "marker covered" => [new(x - 4, y - 4, 16, 16)],
            "marker stained" => [new(x + 10 * chance.Uniform() - size / 2, y + 10 * chance.Uniform() - size / 2, size, size)],
            _ => [],
        };
    }
}
