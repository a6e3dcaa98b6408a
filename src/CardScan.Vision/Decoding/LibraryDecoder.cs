using ImageMagick;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Pictures that ImageMagick decodes. The library is loaded with the first such photo, not before.</summary>
internal static class LibraryDecoder
{
    // The header has been judged; these hold where a codec's own stream claims more than the header.
    static LibraryDecoder()
    {
        ResourceLimits.Width = ResourceLimits.Height = 65_500;
        ResourceLimits.Area = (ulong)PhotoDecoder.MostPixels;
        ResourceLimits.Memory = 1_000_000_000;
        ResourceLimits.Disk = 0;
        ResourceLimits.ListLength = 16;
    }

    /// <summary>Decodes a picture; null where its data are damaged.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="settings">They tell the format, so that no other of the library's decoders can be reached.</param>
    /// <param name="look">Told the library's picture, for what its file says beside its pixels.</param>
    public static Mat? Decode(ReadOnlySpan<byte> bytes, MagickReadSettings settings, Action<MagickImage>? look = null)
    {
        try
        {
            using MagickImage image = new();
            bool isDamaged = false;
            image.Warning += (_, warning) => isDamaged |= warning.Exception is MagickCorruptImageWarningException;
            image.Read(bytes, settings);
            if (isDamaged) return null;
            look?.Invoke(image);
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
