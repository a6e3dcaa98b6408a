using ImageMagick;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>HEIC, HEIF and AVIF.</summary>
internal static class HeifDecoder
{
    /// <summary>Decodes the primary picture, upright by its own boxes; null where the data are damaged.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="shot">How and when it was taken.</param>
    public static Mat? Decode(ReadOnlySpan<byte> bytes, out ShotData shot)
    {
        ShotData seen = default;
        Mat? picture = LibraryDecoder.Decode(bytes, new() { Format = MagickFormat.Heic, FrameCount = 1 }, image =>
        {
            if (image.GetExifProfile()?.ToByteArray() is { } exif) seen = ExifData.Read(exif).Shot;
        });
        shot = seen;
        return picture;
    }
}
