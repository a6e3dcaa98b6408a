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

    // Only these two decoders exist for ImageSharp, and it reads headers alone here.
    private static readonly Configuration HeadersOnly = new(new JpegConfigurationModule(), new PngConfigurationModule());

    /// <summary>Decodes a photo.</summary>
    public static Outcome<DecodedPhoto> Decode(ReadOnlyMemory<byte> bytes)
    {
        Outcome<Header> header = ReadHeader(bytes.Span);
        if (header.IsRefused) return header.Refusal!;

        List<Warning> warnings = [];
        Outcome<Mat> decoded = header.Value.ForeignProfile is { } profile
            ? ConvertToSrgb(bytes, profile, header.Value.Orientation, warnings)
            : DecodeAsIs(bytes.Span);
        if (decoded.IsRefused) return decoded.Refusal!;
        return new DecodedPhoto(new Picture(decoded.Value), header.Value.FocalLength35Mm, warnings.ToValueList());
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
        int orientation = exif?.GetValue(ExifTag.Orientation)?.Value is ushort value and >= 1 and <= 8 ? value : 1;
        return new Header(orientation, focal35Mm, ForeignProfileOf(info.Metadata.IccProfile?.ToByteArray()));
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

    /// <summary>The embedded profile, unless there is none or it is sRGB itself.</summary>
    private static byte[]? ForeignProfileOf(byte[]? profile)
    {
        if (profile is null) return null;
        using SKColorSpace? space = SKColorSpace.CreateIcc(profile);
        return space is { IsSrgb: true } ? null : profile;
    }

    private static Outcome<Mat> DecodeAsIs(ReadOnlySpan<byte> bytes)
    {
        // Applies the EXIF orientation. OpenCV answers data that end early with an empty picture.
        Mat bgr = Cv2.ImDecode(bytes, ImreadModes.Color);
        if (!bgr.Empty()) return bgr;
        bgr.Dispose();
        return Truncated();
    }

    private static Outcome<Mat> ConvertToSrgb(ReadOnlyMemory<byte> bytes, byte[] profile, int orientation, List<Warning> warnings)
    {
        using SKColorSpace? space = SKColorSpace.CreateIcc(profile);
        if (space is null)
        {
            warnings.Add(new("colour-profile-ignored", "The photo's colour profile could not be used, so its colours were read as sRGB: darkness is little affected, ΔE2000 may be off. Save the photo as sRGB to be sure."));
            return DecodeAsIs(bytes.Span);
        }

        using SKData data = SKData.CreateCopy(bytes.Span);
        using SKCodec? codec = SKCodec.Create(data);
        if (codec is null) return Truncated();
        using SKColorSpace srgb = SKColorSpace.CreateSrgb();
        using Mat bgra = new(codec.Info.Height, codec.Info.Width, MatType.CV_8UC4);
        SKImageInfo target = new(codec.Info.Width, codec.Info.Height, SKColorType.Bgra8888, SKAlphaType.Opaque, srgb);
        if (codec.GetPixels(target, bgra.Data) != SKCodecResult.Success) return Truncated();

        using Mat stored = new();
        Cv2.CvtColor(bgra, stored, ColorConversionCodes.BGRA2BGR);
        return Upright(stored, orientation);
    }

    /// <summary>Turns a stored picture upright by its EXIF orientation (Exif 2.3, tag 0x0112).</summary>
    /// <returns>A new picture; the caller disposes it.</returns>
    internal static Mat Upright(Mat stored, int orientation)
    {
        Mat upright = new();
        switch (orientation)
        {
            case 2: Cv2.Flip(stored, upright, FlipMode.Y); break;
            case 3: Cv2.Rotate(stored, upright, RotateFlags.Rotate180); break;
            case 4: Cv2.Flip(stored, upright, FlipMode.X); break;
            case 5: Cv2.Transpose(stored, upright); break;
            case 6: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Clockwise); break;
            case 7:
                using (Mat transposed = new())
                {
                    Cv2.Transpose(stored, transposed);
                    Cv2.Rotate(transposed, upright, RotateFlags.Rotate180);
                }

                break;
            case 8: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Counterclockwise); break;
            default: stored.CopyTo(upright); break;
        }

        return upright;
    }

    private static Refusal Truncated() =>
        Refusal.OfInput("photo-incomplete", "the picture's data end early or are damaged", "copy the photo from the phone again");

    private sealed record Header(int Orientation, double? FocalLength35Mm, byte[]? ForeignProfile);
}
