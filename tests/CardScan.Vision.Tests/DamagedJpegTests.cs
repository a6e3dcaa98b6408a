using ImageMagick;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.PixelFormats;
using SkiaSharp;

namespace CardScan.Vision.Tests;

/// <summary>JPEG data that are damaged are refused, whoever wrote the file; sound ones never are.</summary>
public sealed class DamagedJpegTests
{
    private static readonly byte[] Birch = File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.jpg"));

    [Fact]
    public void Sound_files_of_four_encoders_are_read()
    {
        foreach ((string name, byte[] file) in OpenCv().Concat(Skia()).Concat(ImageSharp()).Concat(Magick()))
            Assert.False(IsRefused(file), name);
    }

    [Fact]
    public void Comments_unknown_segments_fill_bytes_and_bytes_behind_the_end_are_no_damage()
    {
        byte[] comment = [0xFF, 0xFE, 0, 6, 1, 2, 3, 4], unknown = [0xFF, 0xEB, 0, 4, 9, 9], filled = [0xFF, 0xFF, 0xFF, 0xE5, 0, 3, 7];

        Assert.False(IsRefused([.. Birch.AsSpan(0, 2), .. comment, .. unknown, .. filled, .. Birch.AsSpan(2), .. comment, 1, 2, 3]));
    }

    [Fact]
    public void Arithmetic_coding_is_left_to_the_decoder() =>
        Assert.False(IsRefused(Saved(image => image.Settings.SetDefine("jpeg:arithmetic-coding", "true"))));

    [Theory]
    [InlineData(false, 0)]
    [InlineData(true, 0)]
    [InlineData(false, 20)]
    public void Data_that_are_zeroed_doubled_or_missing_are_refused(bool isProgressive, int restartInterval)
    {
        byte[] sound =
            Encoded(90, new(ImwriteFlags.JpegProgressive, isProgressive ? 1 : 0), new(ImwriteFlags.JpegRstInterval, restartInterval));
        int middle = sound.Length / 2;
        byte[] zeroed = [.. sound];
        Array.Clear(zeroed, middle, 200);

        Assert.False(IsRefused(sound));
        Assert.True(IsRefused(zeroed), "zeroed");
        Assert.True(IsRefused([.. sound[..(middle + 300)], .. sound[middle..]]), "doubled");
        Assert.True(IsRefused([.. sound[..middle], .. sound[(middle + 300)..]]), "missing");
    }

    [Fact]
    public void A_bit_that_leaves_the_data_readable_and_shifts_the_light_behind_it_is_seen_in_the_picture()
    {
        // Of single flipped bits behind the first row of units, the first few that the walk through the data lets pass and that
        // move the picture's lower quarter.
        using Mat sound = Cv2.ImDecode(Birch, ImreadModes.Grayscale | ImreadModes.IgnoreOrientation);
        using Mat lower = sound.RowRange(3 * sound.Rows / 4, sound.Rows);
        double level = lower.Mean().Val0;
        Random random = new(20261128);
        int shifted = 0, seen = 0;
        for (int i = 0; i < 400 && shifted < 4; i++)
        {
            byte[] flipped = [.. Birch];
            flipped[random.Next(8000, Birch.Length / 2)] ^= (byte)(1 << random.Next(8));
            JpegVerdict verdict = JpegData.Judge(flipped);
            if (!verdict.IsSound) continue;
            using Planes picture = verdict.Picture!;
            using Mat moved = picture.Luma.RowRange(3 * picture.Height / 4, picture.Height);
            if (Math.Abs(moved.Mean().Val0 - level) < 5) continue;
            shifted++;
            using BgrPixels byLibrary = Decoded(flipped);
            if (BrightnessStep.RunsThrough(picture, verdict.Frame!) && BrightnessStep.RunsThrough(byLibrary, verdict.Frame!)) seen++;
        }

        Assert.True(shifted > 0, "no bit shifted the light");
        Assert.Equal(shifted, seen);
    }

    [Fact]
    public void No_sound_photo_steps_along_its_rows()
    {
        foreach ((string name, string folder) in
            new[]
            {
                ("birch-engrave.jpg", "photos"),
                ("coated-metal-engrave.jpg", "photos"),
                ("birch-corners-covered.jpg", "photos"),
                ("lime-cut-left.jpg", "demo-cut"),
                ("lime-cut-front.jpg", "demo-cut"),
                ("birch-second.jpg", "demo-birch-second")
            })
        {
            byte[] file = File.ReadAllBytes(PhotoFiles.Fixture(name, folder));
            JpegVerdict verdict = JpegData.Judge(file);
            using Planes picture = verdict.Picture!;
            using BgrPixels byLibrary = Decoded(file);
            Assert.InRange(BrightnessStep.LargestShare(picture, verdict.Frame!), 0, 0.55);
            Assert.InRange(BrightnessStep.LargestShare(byLibrary, verdict.Frame!), 0, 0.55);
        }
    }

    /// <summary>The picture as it is where the walk makes none.</summary>
    private static BgrPixels Decoded(byte[] file) => new(Cv2.ImDecode(file, ImreadModes.Color | ImreadModes.IgnoreOrientation));

    private static bool IsRefused(byte[] file)
    {
        Model.Outcome<DecodedPhoto> outcome = PhotoDecoder.Decode(file);
        if (outcome.IsRefused) Assert.Equal("photo-incomplete", outcome.Refusal!.Code);
        else outcome.Value.Dispose();
        return outcome.IsRefused;
    }

    private static IEnumerable<(string Name, byte[] File)> OpenCv()
    {
        foreach (int quality in new[] { 50, 92, 100 })
        {
            yield return ($"OpenCV {quality}", Encoded(quality));
            yield return ($"OpenCV optimised {quality}", Encoded(quality, new ImageEncodingParam(ImwriteFlags.JpegOptimize, 1)));
            yield return ($"OpenCV progressive {quality}", Encoded(quality, new ImageEncodingParam(ImwriteFlags.JpegProgressive, 1)));
            yield return ($"OpenCV restarts {quality}", Encoded(quality, new ImageEncodingParam(ImwriteFlags.JpegRstInterval, 7)));
            // 7: IMWRITE_JPEG_SAMPLING_FACTOR, with the factors of the three components.
            foreach (int factors in new[] { 0x111111, 0x211111, 0x121111, 0x411111 })
                yield return ($"OpenCV {factors:x} {quality}", Encoded(quality, new ImageEncodingParam((ImwriteFlags)7, factors)));
        }

        using Mat picture = Small(), grey = new();
        Cv2.CvtColor(picture, grey, ColorConversionCodes.BGR2GRAY);
        Cv2.ImEncode(".jpg", grey, out byte[] file);
        yield return ("OpenCV grey", file);
    }

    private static IEnumerable<(string Name, byte[] File)> Skia()
    {
        using SKImage image = SKImage.FromEncodedData(Png());
        foreach (int quality in new[] { 50, 95 })
        {
            using SKData file = image.Encode(SKEncodedImageFormat.Jpeg, quality);
            yield return ($"Skia {quality}", file.ToArray());
        }
    }

    private static IEnumerable<(string Name, byte[] File)> ImageSharp()
    {
        using Image<Rgb24> image = Image.Load<Rgb24>(Png());
        foreach (JpegColorType colours in
            new[] { JpegColorType.YCbCrRatio444, JpegColorType.YCbCrRatio420, JpegColorType.Luminance, JpegColorType.Rgb })
        {
            using MemoryStream file = new();
            image.Save(file, new JpegEncoder { Quality = 85, ColorType = colours });
            yield return ($"ImageSharp {colours}", file.ToArray());
        }
    }

    private static IEnumerable<(string Name, byte[] File)> Magick()
    {
        yield return ("Magick", Saved(_ => { }));
        yield return ("Magick progressive", Saved(image => image.Settings.Interlace = Interlace.Jpeg));
        yield return ("Magick without optimised codes", Saved(image => image.Settings.SetDefine("jpeg:optimize-coding", "false")));
        yield return ("Magick 4:2:2", Saved(image => image.Settings.SetDefine("jpeg:sampling-factor", "2x1,1x1,1x1")));
        yield return ("Magick inks", Saved(image => image.ColorSpace = ColorSpace.CMYK));
    }

    private static byte[] Saved(Action<MagickImage> set)
    {
        using MagickImage image = new(Png()) { Quality = 85 };
        set(image);
        image.Format = MagickFormat.Jpeg;
        return image.ToByteArray();
    }

    private static byte[] Encoded(int quality, params ImageEncodingParam[] parameters)
    {
        using Mat picture = Small();
        Cv2.ImEncode(".jpg", picture, out byte[] file, [new(ImwriteFlags.JpegQuality, quality), .. parameters]);
        return file;
    }

    private static byte[] Png()
    {
        using Mat picture = Small();
        Cv2.ImEncode(".png", picture, out byte[] file);
        return file;
    }

    /// <summary>No side is a multiple of 16: the last units are filled up.</summary>
    private static Mat Small()
    {
        using Mat whole = Cv2.ImDecode(Birch, ImreadModes.Color);
        Mat small = new();
        Cv2.Resize(whole, small, new OpenCvSharp.Size(643, 485), 0, 0, InterpolationFlags.Area);
        return small;
    }
}
