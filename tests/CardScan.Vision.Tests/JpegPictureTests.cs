using ImageMagick;
using OpenCvSharp;

namespace CardScan.Vision.Tests;

/// <summary>The picture that the walk through a JPEG's data makes is the one that a decoder makes.</summary>
public sealed class JpegPictureTests
{
    // OpenCV's IMWRITE_JPEG_SAMPLING_FACTOR, with the factors of the three components.
    private const ImwriteFlags SamplingFactor = (ImwriteFlags)7;

    private static readonly byte[] Birch = PhotoFiles.Birch;

    public static TheoryData<int, int, int, int, int> Kinds()
    {
        TheoryData<int, int, int, int, int> kinds = [];
        foreach (int sampling in new[] { 0x221111, 0x211111, 0x121111, 0x111111 })
        {
            kinds.Add(sampling, 92, 0, 643, 485);
            kinds.Add(sampling, 30, 7, 642, 486);
            kinds.Add(sampling, 100, 1, 31, 17);
            kinds.Add(sampling, 90, 0, 1, 1);
            kinds.Add(sampling, 5, 0, 3000, 3);
        }

        return kinds;
    }

    // The decoder is libjpeg-turbo in OpenCV.
    [Theory]
    [MemberData(nameof(Kinds))]
    public void Its_pixels_are_the_decoders(int sampling, int quality, int restarts, int width, int height)
    {
        using Mat colour = Resized(width, height);
        byte[] file = Encoded(colour, sampling, quality, restarts);

        using Planes picture = PictureOf(file);
        using Mat expected = Cv2.ImDecode(file, ImreadModes.Grayscale), difference = new();
        Cv2.Absdiff(expected, picture.Luma, difference);

        Assert.Equal(0, Cv2.CountNonZero(difference));
        AssertColours(file);
    }

    [Fact]
    public void A_grey_file_has_no_colour()
    {
        using Mat colour = Resized(643, 485), grey = new();
        Cv2.CvtColor(colour, grey, ColorConversionCodes.BGR2GRAY);
        byte[] file = Encoded(grey, 0x111111, 90, 4);

        using (Planes picture = PictureOf(file)) Assert.Equal((643, 485), (picture.Width, picture.Height));
        AssertColours(file);
    }

    [Fact]
    public void Other_kinds_are_left_to_the_library()
    {
        using Mat colour = Resized(643, 485);
        Cv2.ImEncode(".jpg", colour, out byte[] progressive, new ImageEncodingParam(ImwriteFlags.JpegProgressive, 1));
        Cv2.ImEncode(".png", colour, out byte[] png);
        using MagickImage image = new(png) { Quality = 95 };
        image.Settings.SetDefine("jpeg:arithmetic-coding", "true");
        byte[] arithmetic = image.ToByteArray(MagickFormat.Jpeg), quarter = Encoded(colour, 0x411111, 95, 0);

        foreach (byte[] file in new[] { progressive, quarter, arithmetic, InThreeScans(colour), Rgb(png) })
        {
            JpegVerdict verdict = JpegData.Judge(file);
            Assert.True(verdict.IsSound);
            Assert.Null(verdict.Picture);
            AssertColours(file);
        }
    }

    [Fact]
    public void Every_piece_of_a_file_is_refused_and_the_whole_is_not()
    {
        using Mat colour = Resized(90, 70);
        byte[] file = Encoded(colour, 0x221111, 90, 0);
        for (int length = 0; length < file.Length; length++)
        {
            JpegVerdict verdict = JpegData.Judge(file.AsSpan(0, length));
            Assert.False(verdict.IsSound);
            Assert.Null(verdict.Picture);
        }

        using Planes whole = PictureOf(file);
    }

    private static void AssertColours(byte[] file)
    {
        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;
        using Mat expected = Cv2.ImDecode(file, ImreadModes.Color);
        (int width, int height) = (expected.Width, expected.Height);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                Vec3b wanted = expected.At<Vec3b>(y, x);
                Assert.Equal((wanted.Item2, wanted.Item1, wanted.Item0), photo.Picture.CodesAt(x, y));
            }
        }
    }

    private static Planes PictureOf(byte[] file)
    {
        JpegVerdict verdict = JpegData.Judge(file);
        Assert.True(verdict.IsSound);
        return Assert.IsType<Planes>(verdict.Picture);
    }

    private static Mat Resized(int width, int height)
    {
        using Mat whole = Cv2.ImDecode(Birch, ImreadModes.Color);
        Mat resized = new();
        Cv2.Resize(whole, resized, new Size(width, height), 0, 0, InterpolationFlags.Area);
        return resized;
    }

    private static byte[] Encoded(Mat picture, int sampling, int quality, int restarts)
    {
        Cv2.ImEncode(".jpg", picture, out byte[] file, new(ImwriteFlags.JpegQuality, quality), new(SamplingFactor, sampling),
            new(ImwriteFlags.JpegRstInterval, restarts));
        return file;
    }

    /// <summary>Red, green and blue as they are, told by an Adobe segment.</summary>
    private static byte[] Rgb(byte[] png)
    {
        using SixLabors.ImageSharp.Image<SixLabors.ImageSharp.PixelFormats.Rgb24> image =
            SixLabors.ImageSharp.Image.Load<SixLabors.ImageSharp.PixelFormats.Rgb24>(png);
        using MemoryStream file = new();
        image.Save(file, new SixLabors.ImageSharp.Formats.Jpeg.JpegEncoder
        {
            Quality = 95,
            ColorType = SixLabors.ImageSharp.Formats.Jpeg.JpegColorType.Rgb,
        });
        return file.ToArray();
    }

    /// <summary>
    /// A baseline file of one scan for each component, put together of three grey ones (T.81, B.2: each scan may have its own
    /// tables before it).
    /// </summary>
    private static byte[] InThreeScans(Mat bgr)
    {
        using Mat whole = new();
        Cv2.CvtColor(bgr, whole, ColorConversionCodes.BGR2YCrCb);
        Mat[] planes = whole.Split();
        List<byte> file = [0xFF, 0xD8];
        int[] order = [0, 2, 1];
        for (int i = 0; i < 3; i++)
        {
            byte[] grey = Encoded(planes[order[i]], 0x111111, 95, 0);
            for (int at = 2; ;)
            {
                byte marker = grey[at + 1];
                byte[] segment = grey[at..(at + 2 + (grey[at + 2] << 8 | grey[at + 3]))];
                at += segment.Length;
                if (marker == 0xC0)
                {
                    if (i == 0) file.AddRange([0xFF, 0xC0, 0, 17, .. segment[4..9], 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0]);
                }
                else if (marker == 0xDA)
                {
                    segment[5] = (byte)(i + 1);
                    file.AddRange(segment);
                    file.AddRange(grey[at..^2]);
                    break;
                }
                else if (marker is 0xC4 or 0xDB) file.AddRange(segment);
            }
        }

        foreach (Mat plane in planes) plane.Dispose();
        return [.. file, 0xFF, 0xD9];
    }
}
