using OpenCvSharp;
using SkiaSharp;

namespace CardScan.Vision;

/// <summary>From the colours of an embedded profile to sRGB.</summary>
internal static class SrgbConversion
{
    private const int StripRows = 256;

    /// <summary>The colours that a header tells of; null where they are sRGB, or where what it tells cannot be used.</summary>
    /// <param name="header">The header.</param>
    /// <param name="isUnusable">True where the colours are no sRGB and nobody knows what they are.</param>
    public static SKColorSpace? ForeignSpace(PhotoHeader header, out bool isUnusable)
    {
        isUnusable = header.HasForeignCodes;
        if (header.IsDisplayP3) return SKColorSpace.CreateRgb(SKColorSpaceTransferFn.Srgb, SKColorSpaceXyz.DisplayP3);
        if (header.Profile is null) return null;

        // In two steps, because CreateIcc of the bytes throws where they are no profile.
        using SKColorSpaceIccProfile? icc = header.Profile.Length == 0 ? null : SKColorSpaceIccProfile.Create(header.Profile);
        SKColorSpace? space = icc is null ? null : SKColorSpace.CreateIcc(icc);
        isUnusable |= space is null;
        if (space is not { IsSrgb: true }) return space;
        space.Dispose();
        return null;
    }

    /// <summary>Converts the colours in place.</summary>
    /// <returns>False where the profile cannot be used; the picture is then as it was.</returns>
    public static bool TryConvert(Mat bgr, SKColorSpace space)
    {
        using SKColorSpace srgb = SKColorSpace.CreateSrgb();

        // In strips, so that the four-channel copy that Skia wants stays small.
        int height = bgr.Height;
        for (int top = 0; top < height; top += StripRows)
        {
            int bottom = Math.Min(top + StripRows, height);
            using Mat strip = bgr.RowRange(top, bottom);
            using Mat bgra = new(), converted = new(strip.Rows, strip.Cols, MatType.CV_8UC4);
            Cv2.CvtColor(strip, bgra, ColorConversionCodes.BGR2BGRA);
            using SKPixmap pixels = new(new SKImageInfo(strip.Cols, strip.Rows, SKColorType.Bgra8888, SKAlphaType.Opaque, space), bgra.Data,
                (int)bgra.Step());
            if (!pixels.ReadPixels(pixels.Info.WithColorSpace(srgb), converted.Data, (int)converted.Step())) return false;
            Cv2.CvtColor(converted, strip, ColorConversionCodes.BGRA2BGR);
        }

        return true;
    }
}
