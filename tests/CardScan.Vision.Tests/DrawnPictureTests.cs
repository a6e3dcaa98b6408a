using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using OpenCvSharp;

namespace CardScan.Vision.Tests;

/// <summary>What tells a photo from a drawing, one mark at a time.</summary>
public sealed class DrawnPictureTests
{
    /// <summary>As drawn as a scene can be: square, evenly lit, of one colour.</summary>
    private static readonly Scene Drawing = new() { Camera = new() { RollDeg = 0 }, Bare = (1, 1, 1), Exposure = 0.5 };

    [Fact]
    public void A_drawing_turned_by_a_quarter_is_still_one()
    {
        foreach (double roll in new[] { 0.0, 90, 180, 270 })
            Assert.Equal("not-a-photo",
                Photographed.RefusalOf(JpegOf(Drawing with { Camera = new() { RollDeg = roll, DistanceMm = 190 } }), Drawing.Plan).Code);
    }

    [Fact]
    public void A_drawing_that_was_photographed_is_a_photo() =>
        Assert.False(Photographed.Read(JpegOf(Drawing with { Camera = new() { RollDeg = 1 } }), Drawing.Plan).IsRefused);

    [Fact]
    public void A_photo_taken_quite_squarely_is_read_where_its_light_and_noise_are_those_of_a_photo()
    {
        Scene square =
            new() { Camera = new() { RollDeg = 0 }, Light = (x, y) => 0.8 + 0.001 * x + 0.0005 * y, Noise = 0.004, Grain = 0.02 };

        Assert.False(Photographed.Read(JpegOf(square), square.Plan).IsRefused);
    }

    [Fact]
    public void A_page_around_a_rectified_photo_gives_it_away()
    {
        Scene square = new() { Light = (x, y) => 0.8 + 0.001 * x + 0.0005 * y, Noise = 0.004, Grain = 0.02 };
        CardPicture rectified =
            OneCard.Read([new PhotoFile("photo", JpegOf(square))], square.Plan, new() { WithPictures = true }).Value.Pictures[0];
        using Mat rgba = Mat.FromPixelData(rectified.HeightPx, rectified.WidthPx, MatType.CV_8UC4, rectified.Rgba.ToArray()),
            bgr = new(), page = new();
        Cv2.CvtColor(rgba, bgr, ColorConversionCodes.RGBA2BGR);
        Cv2.CopyMakeBorder(bgr, page, 100, 100, 100, 100, BorderTypes.Constant, new Scalar(0xF2, 0xF6, 0xF7));
        Cv2.ImEncode(".jpg", page, out byte[] screenshot, new ImageEncodingParam(ImwriteFlags.JpegQuality, 60));

        Refusal refusal = Photographed.RefusalOf(screenshot, square.Plan);

        Assert.Equal("not-a-photo", refusal.Code);
        Assert.Contains("straight border", refusal.Seen, StringComparison.Ordinal);
    }

    private static byte[] JpegOf(Scene scene) => SceneRenderer.Render(scene).ToJpeg(90);
}
