using CardScan.Model;
using CardScan.Planning;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>A grey strip in photos of phones whose tone curves differ.</summary>
public sealed class GreyStripTests
{
    /// <summary>A printer that makes every grey darker than it was asked for.</summary>
    private const double Printed = 1.15;

    private static readonly Plan Strip = CardPlanner.MakeStrip(3);

    private static readonly LinearPicture Light = SceneRenderer.Render(new()
    {
        Plan = File(Strip),
        Bare = (0.62, 0.61, 0.58), Grain = 0.01, Noise = 0.003, Darkness = TrueDensity,
    });

    private static double TrueDensity(Cell cell) => Printed * Strip.Columns.Values[cell.Column];

    /// <summary>Light to code by ITU-R BT.709-6, item 1.2, as light by sRGB: what a photo of such a phone seems to show.</summary>
    private static double Bt709(double light) =>
        SrgbCurve.Linear(light < 0.018 ? 4.5 * light : 1.099 * Math.Pow(light, 0.45) - 0.099);

    /// <summary>Darker shadows and lighter highlights, as phones draw them.</summary>
    private static double SShape(double light)
    {
        double code = SrgbCurve.Code(Math.Clamp(light, 0, 1));
        return SrgbCurve.Linear(0.4 * code + 0.6 * code * code * (3 - 2 * code));
    }

    [Fact]
    public void Its_greys_are_measured_as_they_were_printed_not_as_they_were_asked_for()
    {
        Reading read = ReadingOf(Light);

        Assert.All(read.Cells, cell => Assert.Empty(cell.Flags));
        foreach (CellReading cell in read.Cells)
            Assert.Equal(TrueDensity(Strip.Cells.Single(each => each.Column == cell.Column)), cell.Darkness!.Value, 0.02);
        Assert.All(read.Cells, cell => Assert.Null(cell.Dose));
    }

    [Fact]
    public void A_strip_of_unknown_greys_brings_the_tones_of_a_later_photo_to_those_of_the_first()
    {
        Reading first = ReadingOf(Light.Toned(Bt709), "first");

        (CameraResponse? response, Warning? doubt) = CardReader.ResponseBeside(Seen(Light.Gained(0.8, 0.8, 0.8).Toned(SShape)), first);

        Assert.Null(doubt);
        PhotoScale scale = response!.Record.Scale!;
        Assert.Equal((first.Photos[0].Sha256, false), (scale.PhotoSha256, scale.IsKnown));
        Assert.InRange(scale.Error, 0.001, 0.05);
        Assert.False(response.Record.IsMeasured);
        foreach (double darkness in (double[])[0.1, 0.3, 0.5, 0.7, 0.9])
        {
            double asFirst = Ratio(Bt709, darkness), plain = Ratio(SShape, darkness),
                brought = Ratio(light => response.Undo(SShape(light)), darkness);
            Assert.Equal(asFirst, brought, 0.02);
            // Faint marks hardly suffer.
            Assert.True(
                darkness < 0.2 || Math.Abs(asFirst - plain) > 2 * Math.Abs(asFirst - brought), $"{plain} and {brought} for {asFirst}");
        }

        static double Ratio(Func<double, double> seen, double darkness) =>
            -Math.Log10(seen(0.5 * Math.Pow(10, -darkness)) / seen(0.5));
    }

    [Fact]
    public void What_is_brought_to_a_photo_is_as_doubtful_as_that()
    {
        Reading first = ReadingOf(Light.Toned(Bt709), "first");
        using OpenPhoto photo = CardReader.Open(new("later", Light.Toned(SShape).ToJpeg(95))).Value;
        CameraResponse response = CardReader.ResponseBeside(photo.Measure(Strip, new()).Value, first).Response!;

        PhotoQuality brought = photo.Measure(Strip, new() { Response = response }).Value.Record.Quality!;

        Assert.InRange(brought.DarknessScaleError!.Value, PhotoQuality.UsualDarknessScaleError, 1.2 * PhotoQuality.UsualDarknessScaleError);
    }

    [Fact]
    public void A_series_tells_its_greys_and_they_tell_darkness_as_it_is()
    {
        PhotoFile[] series = [.. new[] { 0.35, 0.8, 1.3 }.Select(exposure => new PhotoFile($"{exposure}", PhotoFiles.WithExposure(
            Light.Gained(exposure, exposure, exposure).Toned(SShape).ToJpeg(95), exposure)))];
        Reading known = OneCard.Read(series, File(Strip), new VisionOptions()).Value.Reading;

        CameraResponse response = CardReader.ResponseBeside(Seen(Light.Toned(Bt709)), known).Response!;

        Assert.True(response.Record.Scale!.IsKnown);
        Assert.True(response.Record.IsMeasured);
        double error = double.Hypot(response.Record.Scale.Error, response.Record.Scale.OwnError);
        Assert.InRange(error, 0.01, 0.1);
        foreach (double darkness in (double[])[0.1, 0.3, 0.5, 0.7, 0.9])
        {
            double told = -Math.Log10(response.Undo(Bt709(0.5 * Math.Pow(10, -darkness))) / response.Undo(Bt709(0.5)));
            Assert.Equal(darkness, told, 2 * error * darkness);
        }
    }

    private static CardView Seen(LinearPicture picture)
    {
        using OpenPhoto photo = CardReader.Open(new("photo", picture.ToJpeg(95))).Value;
        return photo.Measure(Strip, new()).Value;
    }

    private static Reading ReadingOf(LinearPicture picture, string name = "photo") =>
        OneCard.Read([new PhotoFile(name, picture.ToJpeg(95))], File(Strip), new VisionOptions()).Value.Reading;

    private static PlanFile File(Plan plan) => new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));
}
