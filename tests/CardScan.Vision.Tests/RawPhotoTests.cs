using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Raw photos of known light: read as that light, whatever the file is packed in, and without a doubt about tones.</summary>
public sealed class RawPhotoTests
{
    /// <summary>A card as <see cref="ExposureSeriesTests"/> has it, whose darkness goes to 1.15.</summary>
    private static readonly Scene Card = new()
    {
        Grain = 0.02, Noise = 0.003, Exposure = 0.8, Darkness = cell => 0.08 + 0.2 * cell.Column + 0.03 * cell.Row,
    };

    private static readonly Lazy<LinearPicture> Light = new(() => SceneRenderer.Render(Card));

    private static readonly double[] Levels = [0.004, 0.008, 0.016, 0.03, 0.06, 0.12, 0.18, 0.25, 0.35, 0.5, 0.7, 0.9];

    public static TheoryData<string> Kinds =>
    [
        "strips", "lossless JPEG", "three colours", "three colours, lossless JPEG", "behind a preview", "10 bits", "12 bits, black of 256",
    ];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_raw_photo_is_the_light_that_fell_on_the_sensor(string kind)
    {
        LinearPicture steps = Steps();
        using DecodedPhoto photo = PhotoDecoder.Decode(FileOf(kind, steps).Write(steps)).Value;

        Assert.Equal((steps.Width, steps.Height), (photo.Picture.Width, photo.Picture.Height));
        LinearRgb[] seen = [.. Levels.Select((_, i) => MeanOf(photo.Picture, i))];
        double gain = seen[8].G / (0.8 * Levels[8]);
        Assert.InRange(gain, 0.98, 1.15);
        Assert.All(seen, (rgb, i) =>
        {
            // What has one colour may lie half a code of 255 off.
            double within = 0.5 / 255 / 4.5 + 0.01 * Levels[i];
            Assert.Equal(Levels[i], rgb.R / gain, within);
            Assert.Equal(0.8 * Levels[i], rgb.G / gain, within);
            Assert.Equal(0.55 * Levels[i], rgb.B / gain, within);
        });
    }

    // Exif 2.3, CIPA DC-008, tag 0x0112: stored rows [1 2 3], [4 5 6] and how they stand upright.
    [Theory]
    [InlineData(1, "123/456")]
    [InlineData(2, "321/654")]
    [InlineData(3, "654/321")]
    [InlineData(4, "456/123")]
    [InlineData(5, "14/25/36")]
    [InlineData(6, "41/52/63")]
    [InlineData(7, "63/52/41")]
    [InlineData(8, "36/25/14")]
    public void A_raw_photo_stands_upright(int orientation, string expected)
    {
        const int side = 64;
        LinearPicture squares = new(3 * side, 2 * side);
        for (int y = 0; y < squares.Height; y++)
        {
            for (int x = 0; x < squares.Width; x++)
            {
                double level = 0.1 * (1 + x / side + 3 * (y / side));
                squares.Set(x, y, (level, level, level));
            }
        }

        byte[] file = new DngFile { Orientation = orientation }.Write(squares);
        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;
        SmallPicture small = CardReader.Reduce(new("photo", file))!;

        Assert.Equal(expected, string.Join('/', Enumerable.Range(0, photo.Picture.Height / side).Select(row =>
            string.Concat(Enumerable.Range(0, photo.Picture.Width / side)
                .Select(column => (int)Math.Round(10 * photo.Picture.At((column + 0.5) * side, (row + 0.5) * side, out _).G))))));
        Assert.Equal((photo.Picture.Width, photo.Picture.Height), (small.WidthPx, small.HeightPx));
    }

    [Fact]
    public void A_raw_photo_gives_darkness_as_it_was_where_a_JPEG_of_the_scene_does_not()
    {
        Reading raw = Read(Raw(new())), jpeg = Read(Toned());

        PhotoRecord photo = Assert.Single(raw.Photos);
        Assert.Equal((PhotoResponse.Raw, 0), (photo.Response!.Source, photo.Response.Terms.Count));
        Assert.Equal(("Invented", "Raw Phone"), (photo.Camera!.Make, photo.Camera.Model));
        Assert.Equal((0.01, 1.8, 100), (photo.Exposure!.TimeS, photo.Exposure.FNumber, photo.Exposure.Iso));
        Assert.Equal(new DateTime(2026, 3, 14, 10, 20, 30), photo.Taken);
        Assert.DoesNotContain(photo.Warnings, warning => warning.Code is "local-tone" or "series-no-curve" or "cells-clipped");

        Assert.True(Rms(jpeg) > 0.04, $"{Rms(jpeg):F3} as JPEG");
        Assert.InRange(Rms(raw), 0, 0.01);
        double shared = photo.Quality!.DarknessScaleError!.Value;
        Assert.InRange(shared, 0.001, 0.06);
        Assert.True(Used(raw).Count(cell => Math.Abs(Miss(cell))
            <= 2 * double.Hypot(cell.Darkness!.StandardError, shared * cell.Darkness.Value)) >= 0.95 * Used(raw).Count());
        Assert.Equal(raw, CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(raw))).Value);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_lens_that_darkens_its_corners_moves_no_darkness(bool hasGainMap)
    {
        // Half the light in the corners, as a phone's lens leaves it (cos⁴ of 33° is 0.5).
        Reading shaded = Read(Raw(new() { Shade = radius => 1 - 0.5 * radius * radius, HasGainMap = hasGainMap }));

        Assert.InRange(Rms(shaded), 0, 0.01);
        Assert.Equal(Card.Plan.Plan.Cells.Count, Used(shaded).Count());
        Assert.InRange(shaded.Photos[0].Quality!.LightRange!.Value, hasGainMap ? 1 : 1.2, hasGainMap ? 1.05 : 1.6);
    }

    [Fact]
    public void A_gain_map_gives_the_light_back_that_the_lens_took()
    {
        LinearPicture grey = new(400, 300);
        for (int y = 0; y < grey.Height; y++)
            for (int x = 0; x < grey.Width; x++) grey.Set(x, y, (0.2, 0.2, 0.2));
        DngFile file = new() { Shade = radius => 1 - 0.5 * radius * radius, HasGainMap = true, Orientation = 6 };
        using DecodedPhoto photo = PhotoDecoder.Decode(file.Write(grey)).Value;

        double middle = MeanAbout(150, 200), gain = middle / 0.2;
        Assert.InRange(gain, 0.95, 1.15);
        Assert.All([(8, 8), (291, 8), (8, 391), (291, 391), (150, 8), (8, 200)], at =>
            Assert.Equal(1, MeanAbout(at.Item1, at.Item2) / middle, 0.02));

        double MeanAbout(int x, int y) =>
            Enumerable.Range(0, 225).Average(i => photo.Picture.At(x - 7 + i % 15, y - 7 + i / 15, out _).G);
    }

    [Fact]
    public void A_sensor_whose_black_is_a_little_off_stays_within_what_is_stated()
    {
        // Half a step of 10 bits, in a photo two stops too dark.
        LinearPicture dark = Light.Value.Gained(0.25, 0.25, 0.25);
        Reading reading = Read(new PhotoFile("raw.dng", new DngFile { White = 1023, Offset = 0.5 }.Write(dark)));

        double shared = reading.Photos[0].Quality!.DarknessScaleError!.Value;
        Assert.True(Used(reading).Count(cell => Math.Abs(Miss(cell))
            <= 2 * double.Hypot(cell.Darkness!.StandardError, shared * cell.Darkness.Value)) >= 0.95 * Used(reading).Count());
        Assert.True(Used(reading).Count() >= 18, $"{Used(reading).Count()} cells");
    }

    [Fact]
    public void Beside_a_raw_photo_a_JPEG_changes_no_darkness()
    {
        Reading raw = Read(Raw(new())), both = Read(Toned(), Raw(new()));

        Assert.Equal(raw.Cells.Select(cell => cell.Darkness), both.Cells.Select(cell => cell.Darkness));
        Assert.DoesNotContain(
            both.Photos.SelectMany(photo => photo.Warnings), warning => warning.Code is "photos-disagree" or "series-no-curve");
        Assert.Equal([PhotoResponse.Raw], both.TonePhotos.Select(photo => photo.Response!.Source));
    }

    [Fact]
    public void A_cell_that_only_the_JPEG_shows_has_the_JPEGs_doubt_in_its_own_error()
    {
        LinearPicture glared = SceneRenderer.Render(Card with { Glare = new(60, 50, 8, 0.6) });
        PhotoFile raw = new("raw.dng", new DngFile().Write(glared));
        CellReading[] lost = [.. Read(raw).Cells.Where(cell => cell.Flags.Contains(CellFlag.Glare))];
        Assert.NotEmpty(lost);

        Reading both = Read(raw, Toned());

        Assert.All(lost.Select(cell => both.Cells.Single(each => (each.Row, each.Column) == (cell.Row, cell.Column))), cell =>
            Assert.InRange(cell.Darkness!.StandardError / cell.Darkness.Value, 0.1, 0.6));
    }

    [Theory]
    [InlineData(52546)] // JPEG XL, DNG 1.7
    [InlineData(34892)] // lossy JPEG, DNG 1.4
    [InlineData(8)] // Deflate, DNG 1.4
    public void A_raw_photo_packed_otherwise_is_named_and_its_preview_is_not_read_instead(int compression)
    {
        LinearPicture steps = Steps();
        byte[] file = new DngFile { ClaimedCompression = compression, Preview = steps.ToJpeg() }.Write(steps);

        Refusal refusal = PhotoDecoder.Decode(file).Refusal!;

        Assert.Equal("photo-format", refusal.Code);
        Assert.Contains("DNG", refusal.Remedy, StringComparison.Ordinal);
        DisturbedPhotoTests.IsOneLineWithARemedy(refusal);
    }

    [Fact]
    public void A_raw_header_of_900_megapixels_is_refused_before_decoding() =>
        Assert.Equal("photo-too-large", PhotoDecoder.Decode(new DngFile { ClaimedSide = 30_000 }.Write(Steps())).Refusal!.Code);

    [Theory]
    [InlineData(DngPacking.Strips)]
    [InlineData(DngPacking.JpegTiles)]
    internal void A_raw_photo_cut_short_anywhere_is_refused(DngPacking packing)
    {
        LinearPicture steps = Steps();
        byte[] whole = new DngFile { Packing = packing }.Write(steps);
        Assert.False(PhotoDecoder.Decode(whole).IsRefused);
        foreach (double share in new[] { 0.001, 0.004, 0.02, 0.3, 0.8, 0.999 })
        {
            Outcome<DecodedPhoto> outcome = PhotoDecoder.Decode(whole.AsMemory(0, (int)(share * whole.Length)));
            Assert.True(outcome.IsRefused && outcome.Refusal!.Code is "photo-incomplete" or "photo-format", $"cut at {share:P1}");
        }
    }

    [Fact]
    public void A_raw_photo_whose_tiles_are_nonsense_is_refused()
    {
        byte[] file = new DngFile { Packing = DngPacking.JpegTiles }.Write(Steps());
        int at = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0xFF, 0xC3, 0]);
        file.AsSpan(at, 12).Clear();

        Assert.Equal("photo-incomplete", PhotoDecoder.Decode(file).Refusal!.Code);
    }

    private static PhotoFile Raw(DngFile file) => new("raw.dng", file.Write(Light.Value));

    /// <summary>The scene as a phone draws it: darker shadows and lighter highlights.</summary>
    private static PhotoFile Toned() => new("toned.jpg", Light.Value.Toned(linear =>
    {
        double code = SrgbCurve.Code(Math.Clamp(linear, 0, 1));
        return SrgbCurve.Linear(0.4 * code + 0.6 * code * code * (3 - 2 * code));
    }).ToJpeg(95));

    private static DngFile FileOf(string kind, LinearPicture steps) => kind switch
    {
        "strips" => new(),
        "lossless JPEG" => new() { Packing = DngPacking.JpegTiles },
        "three colours" => new() { IsLinear = true },
        "three colours, lossless JPEG" => new() { IsLinear = true, Packing = DngPacking.JpegTiles },
        "behind a preview" => new() { Preview = steps.Mirrored().ToJpeg() },
        "10 bits" => new() { White = 1023 },
        _ => new() { Black = 256 },
    };

    private static LinearPicture Steps()
    {
        LinearPicture steps = new(Levels.Length * 64, 256);
        for (int y = 0; y < steps.Height; y++)
            for (int x = 0; x < steps.Width; x++) steps.Set(x, y, (Levels[x / 64], 0.8 * Levels[x / 64], 0.55 * Levels[x / 64]));
        return steps;
    }

    private static LinearRgb MeanOf(Picture picture, int step)
    {
        LinearRgb sum = default;
        for (int y = 32; y < 224; y++)
            for (int x = 16; x < 48; x++) sum += picture.At(64 * step + x, y, out _);
        return sum * (1.0 / (192 * 32));
    }

    private static Reading Read(params PhotoFile[] photos)
    {
        Outcome<SeenCard> outcome = OneCard.Read(photos, Card.Plan, new VisionOptions());
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return outcome.Value.Reading;
    }

    private static IEnumerable<CellReading> Used(Reading reading) =>
        reading.Cells.Where(cell => cell.Darkness is not null && !cell.Flags.Any(CellFlag.IsDisqualifying));

    private static double Miss(CellReading cell) =>
        cell.Darkness!.Value - Card.Darkness(Card.Plan.Plan.Cells.Single(each => (each.Row, each.Column) == (cell.Row, cell.Column)));

    private static double Rms(Reading reading) => Math.Sqrt(Used(reading).Average(cell => Math.Pow(Miss(cell), 2)));
}
