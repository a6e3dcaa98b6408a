using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace CardScan.Vision.Tests;

/// <summary>Bowed cards, rendered with points that stand off the plane.</summary>
public sealed class BowTests
{
    /// <summary>Coarse enough to be rendered by the hundred, and far enough to hold a card that lies askew.</summary>
    private const double PxPerMm = 4.8;

    private static readonly TestCamera Phone = WithLens(new() { WidthPx = 1200, HeightPx = 900 }, focalLength35Mm: 35);

    public static TheoryData<double, double, double, double> Bows() => new()
    {
        { 0.8, 0, 20, 0 }, { -0.8, 0, 20, 35 }, { 1.6, 0, 8, 180 }, { -1.6, 0, 30, 90 }, { 0, 0.8, 20, 0 }, { 0, -1.2, 25, 75 },
        { 0.7, 0.7, 25, 10 }, { 1, -0.5, 15, -120 }, { 0.5, 0, 33, 200 },
    };

    [Theory]
    [MemberData(nameof(Bows))]
    public void A_bow_is_told_within_its_stated_error_and_the_cells_are_found_where_it_puts_them(double riseXMm, double riseYMm,
        double tiltDeg, double rollDeg)
    {
        Scene scene = SceneOf(riseXMm, riseYMm) with { Grain = 0.03, BlurPx = 0.8, Noise = 0.01 };
        scene = scene with { Camera = scene.Camera with { TiltDeg = tiltDeg, RollDeg = rollDeg, K1 = -0.005 } };

        Photographed bowed = Photograph(scene);

        CardBow bow = bowed.Photo.Bow!;
        Assert.True(bow.IsCorrected);
        Assert.InRange(Math.Abs(bow.RiseXMm.Value - riseXMm) / bow.RiseXMm.StandardError, 0, 3);
        Assert.InRange(Math.Abs(bow.RiseYMm.Value - riseYMm) / bow.RiseYMm.StandardError, 0, 3);
        Assert.InRange(bowed.Reading.Cells.Max(bowed.PlaceErrorMm), 0, 0.05);
        Assert.DoesNotContain("pose-residual", bowed.WarningCodes);
    }

    [Fact]
    public void A_large_bow_is_warned_of_with_its_size_and_what_to_do()
    {
        Scene scene = SceneOf(riseXMm: -1.5, riseYMm: 0);

        Photographed bowed = Photograph(scene with { Camera = scene.Camera with { TiltDeg = 25 } });

        Warning warning = bowed.Photo.Warnings.Single(warning => warning.Code == "bowed");
        Assert.Matches(@"its middle stands 1\.[456]\d? ± 0\.\d+ mm below the line between its left and right edges", warning.Message);
        Assert.Contains("Lay the card flat", warning.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void No_bow_is_believed_on_forty_flat_cards()
    {
        // Grain to a tenth, distortion and light of many kinds: what could be taken for a bow.
        Random random = new(20260705);
        List<CardBow> bows = [];
        for (int photo = 0; photo < 40; photo++)
        {
            double board = 500 * random.NextDouble(), grain = 0.1 * random.NextDouble(), shade = 1 + random.NextDouble();
            Scene scene = new()
            {
                Camera = WithLens(Phone, random.Next(30, 51)) with
                {
                    TiltDeg = 60 * (random.NextDouble() - 0.5),
                    RollDeg = 360 * random.NextDouble(),
                    K1 = 0.03 * (random.NextDouble() - 0.5)
                },
                Light = (x, y) => Math.Exp(grain * Streaks.At(x + board, y + board)) * (1 - 0.003 * shade * x),
                BlurPx = 0.6 + random.NextDouble(),
                Noise = 0.02 * random.NextDouble(),
            };

            bows.Add(Photograph(scene).Photo.Bow!);
        }

        Assert.DoesNotContain(bows, bow => bow.IsCorrected);
        Assert.InRange(
            bows.Count(bow => Math.Abs(bow.RiseXMm.Value) > 3 * bow.RiseXMm.StandardError
                || Math.Abs(bow.RiseYMm.Value) > 3 * bow.RiseYMm.StandardError),
            0, 1);
    }

    [Fact]
    public void From_straight_above_and_afar_little_is_told_and_the_error_says_so()
    {
        Scene scene = SceneOf(riseXMm: 0.3, riseYMm: 0);

        Photographed above = Photograph(scene with { BlurPx = 1, Noise = 0.01, Camera = WithLens(scene.Camera, focalLength35Mm: 80) });

        Assert.True(above.Photo.Bow!.RiseXMm.StandardError > 0.15);
    }

    [Fact]
    public void Cells_too_faint_to_have_edges_tell_no_bow() =>
        Assert.Null(Photograph(SceneOf(1, 0) with { Darkness = _ => 0.04 }).Photo.Bow);

    [Fact]
    public void A_photo_that_does_not_tell_its_focal_length_tells_no_bow() => Assert.Null(Photographed.Of(SceneOf(1, 0)).Photo.Bow);

    [Fact]
    public void The_surface_maps_onto_the_plane_and_back()
    {
        BowedSurface surface = new(TestPlans.Engraved().Plan, (-40, 200, 180)) { RiseXMm = 2, RiseYMm = -1.5, TwistMm = 0.8 };

        foreach (PlanePoint card in (PlanePoint[])[new(0, 0), new(120, 0), new(60, 50), new(17, 93)])
            Assert.InRange(surface.OffPlane(surface.OntoPlane(card)).DistanceTo(card), 0, 1e-9);
    }

    private static TestCamera WithLens(TestCamera camera, double focalLength35Mm)
    {
        TestCamera zoomed = camera with { FocalLength35Mm = focalLength35Mm };
        return zoomed with { DistanceMm = zoomed.FocalPx / PxPerMm };
    }

    private static Scene SceneOf(double riseXMm, double riseYMm) => new()
    {
        Camera = Phone with { HeightMm = (x, y) => riseXMm * (1 - Math.Pow(x / 60 - 1, 2)) + riseYMm * (1 - Math.Pow(y / 50 - 1, 2)) },
    };

    private static Photographed Photograph(Scene scene)
    {
        using SixLabors.ImageSharp.Image image = SixLabors.ImageSharp.Image.Load(SceneRenderer.Render(scene).ToPng());
        image.Metadata.ExifProfile = new ExifProfile();
        image.Metadata.ExifProfile.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)scene.Camera.FocalLength35Mm);
        using MemoryStream file = new();
        image.Save(file, new JpegEncoder { Quality = 92 });
        Outcome<SeenCard> outcome = Photographed.Read(file.ToArray(), scene.Plan);
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return new(scene, outcome.Value.Reading);
    }
}
