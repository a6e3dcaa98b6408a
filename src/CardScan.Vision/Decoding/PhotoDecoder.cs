using CardScan.Model;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SkiaSharp;

namespace CardScan.Vision;

/// <summary>A decoded photo with what its metadata tell. The holder disposes it.</summary>
/// <param name="Picture">Upright, sRGB.</param>
/// <param name="FocalLength35Mm">Focal length for a 36 mm × 24 mm frame of the same diagonal, mm; null where the file does not say.</param>
/// <param name="Warnings">What is doubtful.</param>
internal sealed record DecodedPhoto(Picture Picture, double? FocalLength35Mm, ValueList<Warning> Warnings) : IDisposable
{
    public void Dispose() => Picture.Dispose();
}

/// <summary>
/// JPEG or PNG bytes to an upright sRGB picture. The header is judged before a pixel is decoded; half a picture is a
/// refusal, not a picture.
/// </summary>
internal static class PhotoDecoder
{
    private const long MostBytes = 100L * 1000 * 1000;
    private const long MostPixels = 100L * 1000 * 1000;
    private const int StripRows = 256;

    // Only these two decoders exist for ImageSharp, and it reads headers alone here.
    private static readonly Configuration HeadersOnly = new(new JpegConfigurationModule(), new PngConfigurationModule());

    /// <summary>Decodes a photo.</summary>
    public static Outcome<DecodedPhoto> Decode(ReadOnlyMemory<byte> bytes)
    {
        Outcome<Header> header = ReadHeader(bytes.Span);
        if (header.IsRefused) return header.Refusal!;

        // Turned upright by the EXIF orientation. OpenCV answers data that end early with an empty picture, which Skia's
        // and ImageSharp's decoders do not do for every kind of file.
        Mat bgr = Cv2.ImDecode(bytes.Span, ImreadModes.Color);
        if (bgr.Empty())
        {
            bgr.Dispose();
            return Refusal.OfInput("photo-incomplete", "the picture's data end early or are damaged", "copy the photo from the phone again");
        }

        ValueList<Warning> warnings = [];
        if (header.Value.ForeignProfile is { } profile && !TryConvertToSrgb(bgr, profile))
            warnings = [new("colour-profile-ignored", "The photo's colour profile could not be used, so its colours were read as sRGB: darkness is little affected, ΔE2000 may be off. Save the photo as sRGB to be sure.")];
        return new DecodedPhoto(new Picture(bgr), header.Value.FocalLength35Mm, warnings);
    }

    private static Outcome<Header> ReadHeader(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty) return Refusal.OfInput("photo-empty", "the file is empty", "copy the photo from the phone again");
        if (bytes.Length > MostBytes)
            return Refusal.OfInput("photo-too-large", $"the file has {bytes.Length / 1e6:F0} MB", $"give a photo of at most {MostBytes / 1e6:F0} MB");

        IImageInfo? info = Identify(bytes, out IImageFormat? format);
        if (info is null || format is null)
            return Refusal.OfInput("photo-format", "this is not a JPEG or PNG picture", "give the photo as JPEG or PNG (a phone's camera settings call JPEG “most compatible”)");
        if ((long)info.Width * info.Height > MostPixels)
            return Refusal.OfInput("photo-too-large", $"the picture has {info.Width} × {info.Height} pixels", $"give a photo of at most {MostPixels / 1e6:F0} megapixels");

        ExifProfile? exif = info.Metadata.ExifProfile;
        double? focal35Mm = exif?.GetValue(ExifTag.FocalLengthIn35mmFilm)?.Value is ushort mm and > 0 ? mm : null;
        return new Header(focal35Mm, ForeignProfileOf(info.Metadata.IccProfile?.ToByteArray(), bytes));
    }

    private static IImageInfo? Identify(ReadOnlySpan<byte> bytes, out IImageFormat? format)
    {
        try
        {
            return Image.Identify(HeadersOnly, bytes.ToArray(), out format);
        }
#pragma warning disable CA1031 // malformed files make ImageSharp throw exceptions of many unrelated kinds
        catch (Exception)
#pragma warning restore CA1031
        {
            format = null;
            return null;
        }
    }

    /// <summary>The embedded profile, unless there is none or it is sRGB itself; empty where there is one that cannot be read.</summary>
    private static byte[]? ForeignProfileOf(byte[]? profile, ReadOnlySpan<byte> file)
    {
        // ImageSharp drops a profile it finds invalid; the name of its segment (ICC.1, annex B.4) still tells of it.
        if (profile is null) return file.IndexOf("ICC_PROFILE\0"u8) >= 0 ? [] : null;
        using SKColorSpace? space = SpaceOf(profile);
        return space is { IsSrgb: true } ? null : profile;
    }

    private static SKColorSpace? SpaceOf(byte[] profile)
    {
        // In two steps, because CreateIcc of the bytes throws where they are no profile.
        using SKColorSpaceIccProfile? icc = profile.Length == 0 ? null : SKColorSpaceIccProfile.Create(profile);
        return icc is null ? null : SKColorSpace.CreateIcc(icc);
    }

    /// <summary>Converts the colours in place.</summary>
    /// <returns>False where the profile cannot be used; the picture is then as it was.</returns>
    private static bool TryConvertToSrgb(Mat bgr, byte[] profile)
    {
        using SKColorSpace? space = SpaceOf(profile);
        if (space is null) return false;
        using SKColorSpace srgb = SKColorSpace.CreateSrgb();

        // In strips, so that the four-channel copy that Skia wants stays small.
        int height = bgr.Height;
        for (int top = 0; top < height; top += StripRows)
        {
            int bottom = Math.Min(top + StripRows, height);
            using Mat strip = bgr.RowRange(top, bottom);
            using Mat bgra = new(), converted = new(strip.Rows, strip.Cols, MatType.CV_8UC4);
            Cv2.CvtColor(strip, bgra, ColorConversionCodes.BGR2BGRA);
            using SKPixmap pixels = new(new SKImageInfo(strip.Cols, strip.Rows, SKColorType.Bgra8888, SKAlphaType.Opaque, space), bgra.Data, (int)bgra.Step());
            if (!pixels.ReadPixels(pixels.Info.WithColorSpace(srgb), converted.Data, (int)converted.Step())) return false;
            Cv2.CvtColor(converted, strip, ColorConversionCodes.BGRA2BGR);
        }

        return true;
    }

    private sealed record Header(double? FocalLength35Mm, byte[]? ForeignProfile);
}
