using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Photos of one card that differ in brightness, and the tone curve that they tell.</summary>
public sealed class ExposureSeriesTests
{
    private static readonly double[] Exposures = [0.35, 1, 1.9];

    private static readonly Scene Card = new()
    {
        Grain = 0.02, Noise = 0.003, Exposure = 0.8, Darkness = cell => 0.08 + 0.2 * cell.Column + 0.03 * cell.Row,
    };

    /// <summary>Light to code by ITU-R BT.709-6, item 1.2: a published curve that is not sRGB's.</summary>
    private static double Bt709(double light) => light < 0.018 ? 4.5 * light : 1.099 * Math.Pow(light, 0.45) - 0.099;

    /// <summary>Darker shadows and lighter highlights, as phones draw them: a smooth step blended with the true curve.</summary>
    private static double SShape(double light)
    {
        double code = SrgbCurve.Code(Math.Clamp(light, 0, 1));
        return 0.4 * code + 0.6 * code * code * (3 - 2 * code);
    }

    [Theory]
    [InlineData("BT.709")]
    [InlineData("sRGB")]
    [InlineData("S")]
    public void Codes_of_a_known_curve_give_it_back(string name)
    {
        Func<double, double> code = name switch { "BT.709" => Bt709, "S" => SShape, _ => SrgbCurve.Code };
        CameraResponse response = Found(Exposures.Select(exposure => Evidence(code, exposure, tells: true)));

        // The light is known up to a factor: ratios are compared.
        double bare = Undone(0.5);
        foreach (double darkness in (double[])[0.1, 0.3, 0.5, 0.7, 0.9])
            Assert.Equal(darkness, -Math.Log10(Undone(0.5 * Math.Pow(10, -darkness)) / bare), 0.02);

        double Undone(double light) => response.Undo(SrgbCurve.Linear(code(light)));
    }

    [Fact]
    public void Files_that_do_not_tell_their_exposures_leave_the_strength_of_the_curve_open()
    {
        CameraResponse told = Found(Exposures.Select(exposure => Evidence(SShape, exposure, tells: true)));
        CameraResponse untold = Found(Exposures.Select(exposure => Evidence(SShape, exposure, tells: false)));

        double sure = StretchOf(told), open = StretchOf(untold);
        Assert.InRange(sure, 0.002, 0.04);
        Assert.InRange(open, 0.06, 0.2);

        static double StretchOf(CameraResponse response) =>
            ToneDoubts.By(response.Doubts(), [.. Tones(light => light, 1).Select(tone => tone.Ratio)]).Stretch;
    }

    [Fact]
    public void Photos_of_one_brightness_tell_nothing()
    {
        Assert.Equal((null, null), ExposureSeries.Find([Evidence(SShape, 1, tells: true), Evidence(SShape, 1.2, tells: true)]));
        Assert.Equal((null, null), ExposureSeries.Find([Evidence(SShape, 1, tells: true)]));
    }

    [Fact]
    public void A_phone_that_changes_its_curve_from_photo_to_photo_is_told()
    {
        (CameraResponse? response, Warning? doubt) = ExposureSeries.Find(
        [
            Evidence(light => Math.Pow(light, 1 / 1.4), 0.35, tells: true), Evidence(SShape, 1, tells: true),
            Evidence(light => Math.Pow(light, 1 / 3.2), 1.9, tells: true),
        ]);
        Assert.Null(response);
        Assert.Equal("series-no-curve", doubt!.Code);
    }

    [Fact]
    public void A_lamp_that_was_moved_between_the_photos_is_told()
    {
        ToneEvidence moved = Evidence(SShape, 1, tells: true, at => Math.Exp(0.012 * (at.X - 50)));
        (CameraResponse? response, Warning? doubt) = ExposureSeries.Find([Evidence(SShape, 0.35, tells: true), moved]);
        Assert.Null(response);
        Assert.Contains("moved", doubt!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Three_photos_of_a_phone_give_darkness_as_it_was()
    {
        LinearPicture light = SceneRenderer.Render(Card);
        PhotoFile[] photos = [.. Exposures.Select((exposure, i) => Photo($"photo {i + 1}", light, exposure, told: exposure))];

        Reading series = Read(photos), alone = Read(photos[1]);

        Assert.All(series.Photos, photo => Assert.Equal(PhotoResponse.Series, photo.Response!.Source));
        Assert.Null(alone.Photos[0].Response);
        Assert.True(Rms(alone) > 0.04, $"{Rms(alone):F3} alone");
        Assert.InRange(Rms(series), 0, 0.015);
        double shared = series.Photos[0].Quality!.DarknessScaleError!.Value;
        Assert.InRange(shared, 0.005, 0.08);
        Assert.True(Used(series).Count(cell => Math.Abs(Miss(cell))
            <= 2 * double.Hypot(cell.Darkness!.StandardError, shared * cell.Darkness.Value)) >= 0.95 * Used(series).Count());
    }

    [Fact]
    public void A_photo_too_bright_to_be_measured_still_tells_of_the_curve()
    {
        LinearPicture light = SceneRenderer.Render(Card);
        Outcome<SeenCard> seen = OneCard.Read(
            [Photo("usual", light, 0.6, told: 0.6), Photo("bright", light, 3, told: 3)], Card.Plan, new VisionOptions());

        Assert.Equal("overexposed", Assert.Single(seen.Value.Refused).Refusal.Code);
        Assert.NotNull(Assert.Single(seen.Value.Reading.Photos).Response);
        Assert.InRange(Rms(seen.Value.Reading), 0, 0.02);
    }

    [Fact]
    public void Photos_of_two_phones_are_no_series()
    {
        LinearPicture light = SceneRenderer.Render(Card);
        Reading both = Read(Photo("one", light, 0.5, told: 0.5), Photo("other", light, 1.2, told: 1.2, model: "Other phone"));
        Assert.All(both.Photos, photo => Assert.Null(photo.Response));
        Assert.Equal(["Phone", "Other phone"], both.Photos.Select(photo => photo.Camera!.Model));
        Assert.Equal(0.5, both.Photos[0].Exposure!.TimeS, 1e-6);
    }

    [Theory]
    [InlineData("2026:03:14 10:05:00", true)]
    [InlineData("2026:03:14 18:05:00", false)]
    public void Photos_of_the_morning_and_the_evening_are_no_series(string second, bool isSeries)
    {
        LinearPicture light = SceneRenderer.Render(Card);
        Reading both = Read(
            Photo("first", light, 0.5, told: 0.5, taken: "2026:03:14 10:00:00"), Photo("second", light, 1.2, told: 1.2, taken: second));
        Assert.All(both.Photos, photo => Assert.Equal(isSeries, photo.Response is not null));
    }

    [Fact]
    public void A_card_whose_darkness_a_series_told_tells_the_curve_of_another_photo()
    {
        LinearPicture light = SceneRenderer.Render(Card);
        Reading known = Read([.. Exposures.Select((exposure, i) => Photo($"photo {i + 1}", light, exposure, told: exposure))]);
        CardView seen = Seen(light.Toned(linear => SrgbCurve.Linear(Bt709(linear))));

        (CameraResponse? response, Warning? doubt) = CardReader.ResponseBeside(seen, known);

        Assert.Null(doubt);
        Assert.Equal((PhotoResponse.Card, Card.Plan.Plan.Number), (response!.Record.Source, response.Record.CardNumber));
        double bare = Undone(0.5);
        foreach (double darkness in (double[])[0.1, 0.3, 0.5, 0.7, 0.9])
            Assert.Equal(darkness, -Math.Log10(Undone(0.5 * Math.Pow(10, -darkness)) / bare), 0.03);
        Assert.InRange(response.UsualError, 0.005, 0.08);

        double Undone(double linear) => response!.Undo(SrgbCurve.Linear(Bt709(linear)));
    }

    [Fact]
    public void A_card_that_does_not_look_as_it_did_is_told_and_one_that_tells_too_little_is_not_used()
    {
        LinearPicture light = SceneRenderer.Render(Card);
        Reading known = Read([.. Exposures.Select((exposure, i) => Photo($"photo {i + 1}", light, exposure, told: exposure))]);
        CardView seen = Seen(light);
        Random random = new(3);
        Reading faded = known with
        {
            Cells = known.Cells.Select(cell => cell.Darkness is { } darkness
                ? cell with { Darkness = new(darkness.Value * (0.7 + 0.6 * random.NextDouble()), darkness.StandardError) }
                : cell).ToValueList(),
        };

        Assert.Equal("reference-misfit", CardReader.ResponseBeside(seen, faded).Doubt!.Code);
        Assert.Equal((null, null), CardReader.ResponseBeside(seen, known with { Cells = [.. known.Cells.Take(5)] }));
    }

    private static CardView Seen(LinearPicture picture)
    {
        using OpenPhoto photo = CardReader.Open(new("other", picture.ToJpeg(95))).Value;
        return photo.Measure(Card.Plan.Plan, new()).Value;
    }

    private static PhotoFile Photo(
        string name, LinearPicture light, double exposure, double told, string model = "Phone", string? taken = null) => new(
        name, PhotoFiles.WithExposure(
            light.Gained(exposure, exposure, exposure).Toned(linear => SrgbCurve.Linear(SShape(linear))).ToJpeg(95), told, model, taken));

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

    private static CameraResponse Found(IEnumerable<ToneEvidence> photos)
    {
        (CameraResponse? response, Warning? doubt) = ExposureSeries.Find([.. photos]);
        Assert.Null(doubt);
        return response!;
    }

    /// <summary>Thirty warm cells from faint to dark on wood, as a photo of a phone shows them.</summary>
    private static ToneEvidence Evidence(
        Func<double, double> code, double exposure, bool tells, Func<PlanePoint, double>? lamp = null) => new(
        Tones(light => SrgbCurve.Linear(code(Math.Min(light, 1))), exposure, lamp).Select(tone => (CellTone?)tone).ToValueList(),
        new ShotData(null, null) { Exposure = tells ? new(exposure, 1.8, 100) : null }, new() { WidthMm = 100, HeightMm = 80 });

    private static IEnumerable<CellTone> Tones(Func<double, double> seen, double exposure, Func<PlanePoint, double>? lamp = null) =>
        Enumerable.Range(0, 30).Select(i =>
        {
            PlanePoint at = new(10 + 16 * (i % 6), 10 + 15 * (i / 6));
            double light = exposure * (lamp?.Invoke(at) ?? 1) * (1 + 0.05 * Math.Sin(i)), left = Math.Pow(10, -0.03 * (i + 1));
            LinearRgb bare = new(0.45 * light, 0.36 * light, 0.24 * light);
            return new CellTone(at, Seen(bare * left, seen), Seen(bare, seen));
        });

    private static LinearRgb Seen(LinearRgb rgb, Func<double, double> seen) => new(seen(rgb.R), seen(rgb.G), seen(rgb.B));
}
