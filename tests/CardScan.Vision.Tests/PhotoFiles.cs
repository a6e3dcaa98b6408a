using System.Buffers.Binary;
using System.IO.Compression;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.Metadata.Profiles.Icc;
using SixLabors.ImageSharp.PixelFormats;
using SkiaSharp;

namespace CardScan.Vision.Tests;

/// <summary>Photo files made for the tests.</summary>
internal static partial class PhotoFiles
{
    /// <summary>The shipped photo of card 17, with its plan.</summary>
    public static byte[] Birch => File.ReadAllBytes(Fixture("birch-engrave.jpg"));

    public static CardScan.Model.PlanFile BirchPlan =>
        CardScan.Model.CardJson.ReadPlan(File.ReadAllBytes(Fixture("birch-engrave.plan.json"))).Value;

    /// <summary>A Display P3 profile as Skia writes it.</summary>
    public static byte[] DisplayP3 { get; } = WriteDisplayP3();

    public static string Fixture(string name, string folder = "photos") => Path.Combine(AppContext.BaseDirectory, "fixtures", folder, name);

    /// <summary>A picture of flat squares, 16 px each: rows of colours, row 0 at the top; a JPEG unless told otherwise.</summary>
    public static byte[] Squares(Rgb24[][] rows, ushort? orientation = null, byte[]? profile = null, IImageEncoder? encoder = null)
    {
        using Image<Rgb24> image = new(16 * rows[0].Length, 16 * rows.Length);
        for (int y = 0; y < image.Height; y++)
            for (int x = 0; x < image.Width; x++) image[x, y] = rows[y / 16][x / 16];
        if (orientation is ushort value)
        {
            image.Metadata.ExifProfile = new ExifProfile();
            image.Metadata.ExifProfile.SetValue(ExifTag.Orientation, value);
            image.Frames.RootFrame.Metadata.ExifProfile = image.Metadata.ExifProfile;
        }

        if (profile is not null) image.Metadata.IccProfile = new IccProfile(profile);
        using MemoryStream file = new();
        image.Save(file, encoder ?? new JpegEncoder { Quality = 100, ColorType = JpegColorType.YCbCrRatio444 });
        return file.ToArray();
    }

    /// <summary>A JPEG with a colour profile put in as an APP2 segment (ICC.1, annex B.4) right after its start.</summary>
    public static byte[] WithProfile(byte[] jpeg, byte[] profile)
    {
        byte[] name = [.. "ICC_PROFILE\0"u8, 1, 1];
        byte[] length = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(2 + name.Length + profile.Length));
        return [.. jpeg.AsSpan(0, 2), 0xFF, 0xE2, .. length, .. name, .. profile, .. jpeg.AsSpan(2)];
    }

    /// <summary>
    /// A JPEG with a second one behind its end, as phones store gain maps (Multi-Picture Format, CIPA DC-007), and
    /// some bytes of nonsense.
    /// </summary>
    public static byte[] WithGainMap(byte[] jpeg)
    {
        byte[] index = [0xFF, 0xE2, 0, 16, .. "MPF\0MM"u8, 0, 42, 0, 0, 0, 8, 0, 0];
        return [.. jpeg.AsSpan(0, 2), .. index, .. jpeg.AsSpan(2), .. Squares([[new(255, 255, 255)]]), 1, 2, 3];
    }

    /// <summary>A JPEG of four inks, made by the library that reads HEIC.</summary>
    public static byte[] CmykJpeg(OpenCvSharp.Mat bgr)
    {
        OpenCvSharp.Cv2.ImEncode(".png", bgr, out byte[] png);
        using ImageMagick.MagickImage image = new(png) { ColorSpace = ImageMagick.ColorSpace.CMYK, Format = ImageMagick.MagickFormat.Jpeg };
        return image.ToByteArray();
    }

    /// <summary>A PNG with a chunk put in behind its header.</summary>
    public static byte[] WithChunk(byte[] png, string name, byte[] content) =>
        [.. png.AsSpan(0, 33), .. Chunk(name, content), .. png.AsSpan(33)];

    /// <summary>A PNG that claims a size and holds next to nothing.</summary>
    public static byte[] PngHeader(int width, int height)
    {
        byte[] size = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(size, width);
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), height);
        (size[8], size[9]) = (8, 2); // 8 bits, red green blue
        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionMode.Compress, leaveOpen: true)) zlib.Write(new byte[64]);
        return [0x89, .. "PNG\r\n"u8, 0x1A, 0x0A, .. Chunk("IHDR", size), .. Chunk("IDAT", packed.ToArray()), .. Chunk("IEND", [])];
    }

    private static byte[] Chunk(string name, byte[] content)
    {
        byte[] length = new byte[4], check = new byte[4];
        byte[] body = [.. System.Text.Encoding.ASCII.GetBytes(name), .. content];
        BinaryPrimitives.WriteInt32BigEndian(length, content.Length);
        BinaryPrimitives.WriteUInt32BigEndian(check, Crc32(body));
        return [.. length, .. body, .. check];
    }

    /// <summary>PNG specification, annex D.</summary>
    private static uint Crc32(byte[] bytes)
    {
        uint crc = 0xFFFFFFFF;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int bit = 0; bit < 8; bit++) crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
        }

        return ~crc;
    }

    private static byte[] WriteDisplayP3()
    {
        using SKColorSpace space = SKColorSpace.CreateRgb(SKColorSpaceTransferFn.Srgb, SKColorSpaceXyz.DisplayP3);
        using SKBitmap bitmap = new(new SKImageInfo(8, 8, SKColorType.Rgba8888, SKAlphaType.Opaque, space));
        using SKData jpeg = bitmap.Encode(SKEncodedImageFormat.Jpeg, 90);
        using MemoryStream stream = new(jpeg.ToArray());
        return Image.Identify(stream).Metadata.IccProfile!.ToByteArray();
    }
}
