using ImageMagick;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>HEIC, HEIF and AVIF. The library behind it is loaded with the first such photo, not before.</summary>
internal static class HeifDecoder
{
    // The header has been judged; these hold where a codec's own stream claims more than the header.
    static HeifDecoder()
    {
        ResourceLimits.Width = ResourceLimits.Height = 65_500;
        ResourceLimits.Area = (ulong)PhotoDecoder.MostPixels;
        ResourceLimits.Memory = 1_000_000_000;
        ResourceLimits.Disk = 0;
        ResourceLimits.ListLength = 16;
    }

    /// <summary>Decodes the primary picture, upright by its own boxes; null where the data are damaged.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="shot">How and when it was taken.</param>
    public static Mat? Decode(ReadOnlySpan<byte> bytes, out ShotData shot)
    {
        shot = default;
        try
        {
            using MagickImage image = new();
            bool isDamaged = false;
            image.Warning += (_, warning) => isDamaged |= warning.Exception is MagickCorruptImageWarningException;
            // The format is told, so that no other of the library's decoders can be reached.
            image.Read(bytes, new MagickReadSettings { Format = MagickFormat.Heic, FrameCount = 1 });
            if (isDamaged) return null;
            if (image.GetExifProfile()?.ToByteArray() is { } exif) shot = ExifData.Read(exif).Shot;
            using IUnsafePixelCollection<byte> pixels = image.GetPixelsUnsafe();
            byte[]? bgr = pixels.ToByteArray(PixelMapping.BGR);
            if (bgr is null) return null;
            Mat picture = new((int)image.Height, (int)image.Width, MatType.CV_8UC3);
            bgr.CopyTo(picture.AsSpan<byte>());
            return picture;
        }
        catch (MagickException)
        {
            return null;
        }
    }
}
