using System.Buffers.Binary;
using System.Text;
using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using OpenCvSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Formats.Tiff;
using SixLabors.ImageSharp.Formats.Webp;
using SixLabors.ImageSharp.PixelFormats;

namespace CardScan.Vision.Tests;

/// <summary>Every kind of file that phones and programs leave: read alike, or named with what to do.</summary>
public sealed class PhotoFormatTests
{
    private static readonly Reading Birch = Photographed.Read(PhotoFiles.Birch, PhotoFiles.BirchPlan).Value.Reading;

    public static TheoryData<string> SameCodes =>
        ["PNG", "PNG, 16 bits", "TIFF", "TIFF, 16 bits", "WebP, lossless", "JPEG with a second picture behind it"];

    [Theory]
    [MemberData(nameof(SameCodes))]
    public void The_same_picture_gives_the_same_figures_in_whatever_file(string kind)
    {
        Outcome<SeenCard> outcome = Photographed.Read(Encoded(kind), PhotoFiles.BirchPlan);

        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        Assert.Equal(Birch.Cells.Select(cell => cell.Darkness), outcome.Value.Reading.Cells.Select(cell => cell.Darkness));
        Assert.DoesNotContain(outcome.Value.Reading.Photos[0].Warnings, warning => warning.Code == "colour-profile-ignored");
    }

    public static TheoryData<string, double> LossyCodes => new()
    {
        { "WebP", 0.01 }, { "JPEG, progressive", 0.01 }, { "AVIF", 0.02 },
    };

    [Theory]
    [MemberData(nameof(LossyCodes))]
    public void A_picture_compressed_once_more_gives_nearly_the_same_figures(string kind, double darkness)
    {
        Outcome<SeenCard> outcome = Photographed.Read(Encoded(kind), PhotoFiles.BirchPlan);

        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        Assert.InRange(RmsDifference(Birch, outcome.Value.Reading), 0, darkness);
    }

    [Fact]
    public void A_HEIC_photo_is_turned_once_and_read_like_its_JPEG()
    {
        // The file turns its picture by a box of its own, and its Exif says the same a second time.
        PlanFile plan = CardJson.ReadPlan(File.ReadAllBytes(PhotoFiles.Fixture("coated-metal-engrave.plan.json"))).Value;
        Reading jpeg = Photographed.Read(File.ReadAllBytes(PhotoFiles.Fixture("coated-metal-engrave.jpg")), plan).Value.Reading;

        Outcome<SeenCard> heic = Photographed.Read(Heic(), plan);

        Assert.False(heic.IsRefused, heic.Refusal?.ToString());
        PhotoRecord photo = heic.Value.Reading.Photos[0];
        Assert.Equal((jpeg.Photos[0].WidthPx, jpeg.Photos[0].HeightPx), (photo.WidthPx, photo.HeightPx));
        Assert.All(heic.Value.Reading.Cells, (cell, i) => Assert.InRange(Math.Abs(cell.CenterPx!.X - jpeg.Cells[i].CenterPx!.X), 0, 0.5));
        Assert.InRange(RmsDifference(jpeg, heic.Value.Reading), 0, 0.03);
    }

    [Fact]
    public void A_HEIC_photo_tells_its_focal_length_and_date()
    {
        using DecodedPhoto photo = PhotoDecoder.Decode(Heic()).Value,
            jpeg = PhotoDecoder.Decode(File.ReadAllBytes(PhotoFiles.Fixture("coated-metal-engrave.jpg"))).Value;

        Assert.NotNull(photo.Shot.FocalLength35Mm);
        Assert.NotNull(photo.Shot.Taken);
        Assert.Equal(jpeg.Shot, photo.Shot);
    }

    [Fact]
    public void A_HEIC_header_of_900_megapixels_is_refused_before_decoding()
    {
        Refusal refusal = PhotoDecoder.Decode(HeicOfSize(30_000, 30_000)).Refusal!;

        Assert.Equal("photo-too-large", refusal.Code);
        Assert.Contains("30000 × 30000", refusal.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(16, 16)]
    [InlineData(9_999, 9_999)]
    public void A_HEIC_header_that_lies_about_its_size_is_refused_or_read_and_never_throws(uint width, uint height)
    {
        Outcome<DecodedPhoto> outcome = PhotoDecoder.Decode(HeicOfSize(width, height));

        if (outcome.IsRefused) DisturbedPhotoTests.IsOneLineWithARemedy(outcome.Refusal!);
        else outcome.Value.Dispose();
    }

    [Fact]
    public void A_HEIC_photo_cut_short_anywhere_is_refused()
    {
        byte[] whole = Heic();
        foreach (double share in new[] { 0.001, 0.004, 0.02, 0.3, 0.8, 0.99 })
        {
            Outcome<DecodedPhoto> outcome = PhotoDecoder.Decode(whole.AsMemory(0, (int)(share * whole.Length)));
            Assert.True(outcome.IsRefused && outcome.Refusal!.Code is "photo-incomplete" or "photo-format", $"cut at {share:P1}");
        }
    }

    [Fact]
    public void A_HEIC_photo_without_a_profile_but_with_the_points_of_high_dynamic_range_is_read_with_a_warning()
    {
        // heif-enc gives no colour box here, so the AVIF fixture's is changed: transfer 16 is PQ (ITU-T H.273, table 3).
        byte[] file = File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.avif", "formats"));
        int at = file.AsSpan().IndexOf("nclx"u8);
        Assert.True(at > 0, "the fixture has no colour box");
        BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(at + 6), 16);

        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;

        Assert.Contains(photo.Warnings, warning => warning.Code == "colour-profile-ignored");
    }

    // Exif 2.3, CIPA DC-008, tag 0x0112: stored rows [1 2 3], [4 5 6] and how they stand upright.
    public static TheoryData<string, int, string> Turned()
    {
        TheoryData<string, int, string> all = [];
        string[] upright = ["123/456", "321/654", "654/321", "456/123", "14/25/36", "41/52/63", "63/52/41", "36/25/14"];
        foreach (string kind in new[] { "PNG", "WebP", "TIFF" })
            for (int orientation = 1; orientation <= 8; orientation++) all.Add(kind, orientation, upright[orientation - 1]);
        return all;
    }

    [Theory]
    [MemberData(nameof(Turned))]
    public void A_photo_stands_upright_in_every_format(string kind, int orientation, string expected)
    {
        IImageEncoder encoder = kind switch
        {
            "PNG" => new PngEncoder(),
            "WebP" => new WebpEncoder { FileFormat = WebpFileFormatType.Lossless },
            _ => new TiffEncoder()
        };
        byte[] file = PhotoFiles.Squares([[Grey(1), Grey(2), Grey(3)], [Grey(4), Grey(5), Grey(6)]], (ushort)orientation, encoder: encoder);

        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;

        Assert.Equal(expected, string.Join('/', Enumerable.Range(0, photo.Picture.Height / 16).Select(row =>
            string.Concat(Enumerable.Range(0, photo.Picture.Width / 16)
                .Select(column => (int)Math.Round(photo.Picture.CodesAt(16 * column + 8, 16 * row + 8).G / 40.0))))));

        static Rgb24 Grey(int figure) => new((byte)(40 * figure), (byte)(40 * figure), (byte)(40 * figure));
    }

    public static TheoryData<string, string> Unreadable => new()
    {
        { "47494638396101000100", "GIF" }, { "255044462D312E37", "PDF" }, { "424D36000000", "BMP" }, { "FF0A0000", "JPEG XL" },
        { "0000001866747970717420200000", "video" }, { "00000018667479706D703432", "video" }, { "1A45DFA3A3428681", "video" },
        { "00000018667479706372782000000001", "raw" }, { "49492A00100000004352020000000000", "raw" },
        { "46554A4946494C4D4343442D524157", "raw" },
        { "504B030414000600", "ZIP" }, { "52494646000000004156492020", "video" }, { "0000000C6A5020200D0A870A", "JPEG 2000" },
    };

    [Theory]
    [MemberData(nameof(Unreadable))]
    public void A_file_that_cannot_be_read_is_named_with_what_to_do(string firstBytes, string named)
    {
        Refusal refusal = PhotoDecoder.Decode(Convert.FromHexString(firstBytes)).Refusal!;

        Assert.Equal("photo-format", refusal.Code);
        Assert.Contains(named, refusal.Seen, StringComparison.Ordinal);
        DisturbedPhotoTests.IsOneLineWithARemedy(refusal);
    }

    [Fact]
    public void A_raw_picture_in_the_dress_of_TIFF_is_named()
    {
        // The colours of a mosaic (Adobe DNG 1.7, PhotometricInterpretation 32803).
        byte[] file = Tiff([(256, 4, 64), (257, 4, 48), (258, 3, 14), (262, 3, 32803)]);

        Refusal refusal = PhotoDecoder.Decode(file).Refusal!;
        Assert.Contains("raw", refusal.Seen, StringComparison.Ordinal);
        Assert.Contains("DNG", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_raw_photo_without_its_raw_picture_is_named()
    {
        // A tag of its own gives the version of DNG (Adobe DNG 1.7, DNGVersion 50706).
        byte[] file = Tiff([(256, 4, 64), (257, 4, 48), (258, 3, 8), (262, 3, 2), (50706, 1, 0x04010000)]);

        Assert.Contains("DNG", PhotoDecoder.Decode(file).Refusal!.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void A_TIFF_header_of_900_megapixels_is_refused_before_decoding() =>
        Assert.Equal(
            "photo-too-large", PhotoDecoder.Decode(Tiff([(256, 4, 30_000), (257, 4, 30_000), (258, 3, 8), (262, 3, 2)])).Refusal!.Code);

    [Fact]
    public void A_TIFF_of_several_pages_is_refused()
    {
        using ImageMagick.MagickImageCollection pages =
            [.. Enumerable.Range(0, 3).Select(_ => new ImageMagick.MagickImage(ImageMagick.MagickColors.Tan, 8, 8))];

        Assert.Equal("photo-several", PhotoDecoder.Decode(pages.ToByteArray(ImageMagick.MagickFormat.Tiff)).Refusal!.Code);
    }

    [Fact]
    public void A_WebP_header_of_many_megapixels_is_refused_before_decoding()
    {
        // The largest that the format can say: 16384 × 16384 (RFC 9649, VP8X).
        byte[] file = [.. "RIFF"u8, 22, 0, 0, 0, .. "WEBPVP8X"u8, 10, 0, 0, 0, 0, 0, 0, 0, 0xFF, 0x3F, 0, 0xFF, 0x3F, 0];

        Assert.Equal("photo-too-large", PhotoDecoder.Decode(file).Refusal!.Code);
    }

    [Fact]
    public void A_photo_in_printing_inks_is_read_with_a_warning()
    {
        using Mat picture = Cv2.ImDecode(PhotoFiles.Birch, ImreadModes.Color);
        byte[] inks = PhotoFiles.CmykJpeg(picture);

        using DecodedPhoto photo = PhotoDecoder.Decode(inks).Value;

        Assert.Equal((picture.Width, picture.Height), (photo.Picture.Width, photo.Picture.Height));
        Assert.Equal("colour-profile-ignored", Assert.Single(photo.Warnings).Code);
    }

    [Fact]
    public void A_PNG_in_linear_light_is_read_with_a_warning()
    {
        byte[] file = PhotoFiles.WithChunk(PhotoFiles.Squares([[new(200, 160, 110)]], encoder: new PngEncoder { Gamma = null }), "gAMA",
            [0, 1, 0x86, 0xA0]);

        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;

        Assert.Equal("colour-profile-ignored", Assert.Single(photo.Warnings).Code);
    }

    private static byte[] Encoded(string kind)
    {
        if (kind == "AVIF") return File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.avif", "formats"));
        if (kind.StartsWith("JPEG with", StringComparison.Ordinal)) return PhotoFiles.WithGainMap(PhotoFiles.Birch);
        using Mat picture = Cv2.ImDecode(PhotoFiles.Birch, ImreadModes.Color);
        using Mat deep = new();
        picture.ConvertTo(deep, MatType.CV_16UC3, 257);
        (string extension, ImageEncodingParam[] parameters) = kind switch
        {
            "WebP" => (".webp", [new ImageEncodingParam(ImwriteFlags.WebPQuality, 90)]),
            "WebP, lossless" => (".webp", [new ImageEncodingParam(ImwriteFlags.WebPQuality, 101)]),
            "JPEG, progressive" => (".jpg", [new ImageEncodingParam(ImwriteFlags.JpegProgressive, 1)]),
            _ => (kind.StartsWith("TIFF", StringComparison.Ordinal) ? ".tiff" : ".png", Array.Empty<ImageEncodingParam>()),
        };
        Cv2.ImEncode(extension, kind.EndsWith("16 bits", StringComparison.Ordinal) ? deep : picture, out byte[] file, parameters);
        return file;
    }

    private static byte[] Heic() => File.ReadAllBytes(PhotoFiles.Fixture("coated-metal-engrave.heic", "formats"));

    /// <summary>The fixture with another size in its header: box ispe (ISO/IEC 23008-12, 6.5.3).</summary>
    private static byte[] HeicOfSize(uint width, uint height)
    {
        byte[] file = Heic();
        int at = file.AsSpan().IndexOf("ispe"u8);
        BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(at + 8), width);
        BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(at + 12), height);
        return file;
    }

    /// <summary>A TIFF file of one directory and no picture data (TIFF 6.0, section 2).</summary>
    private static byte[] Tiff((ushort Tag, ushort Type, uint Value)[] tags)
    {
        byte[] file = new byte[8 + 2 + 12 * tags.Length + 4];
        Encoding.ASCII.GetBytes("II*\0").CopyTo(file, 0);
        file[4] = 8;
        file[8] = (byte)tags.Length;
        for (int i = 0; i < tags.Length; i++)
        {
            Span<byte> entry = file.AsSpan(10 + 12 * i, 12);
            BinaryPrimitives.WriteUInt16LittleEndian(entry, tags[i].Tag);
            BinaryPrimitives.WriteUInt16LittleEndian(entry[2..], tags[i].Type);
            BinaryPrimitives.WriteUInt32LittleEndian(entry[4..], 1);
            BinaryPrimitives.WriteUInt32LittleEndian(entry[8..], tags[i].Value);
        }

        return file;
    }

    private static double RmsDifference(Reading first, Reading second) =>
        Math.Sqrt(first.Cells.Zip(second.Cells).Average(pair => Math.Pow(pair.First.Darkness!.Value - pair.Second.Darkness!.Value, 2)));
}
