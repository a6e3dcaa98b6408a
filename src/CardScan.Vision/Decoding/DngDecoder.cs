using ImageMagick;
using ImageMagick.Formats;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Raw photos. The library's part for them is LibRaw.</summary>
internal static class DngDecoder
{
    /// <summary>The library may crop a few rows of the sensor; what is smaller than this share is another picture of the file.</summary>
    private const double LeastShare = 0.9;

    /// <summary>
    /// Decodes the raw picture, unturned: black and white level, the camera's white balance, sRGB's primaries and the lens's shading,
    /// in codes of <see cref="CodeScale.Raw"/>; null where the data are damaged.
    /// </summary>
    /// <param name="bytes">The file.</param>
    /// <param name="header">Its header, judged.</param>
    public static Mat? Decode(ReadOnlySpan<byte> bytes, PhotoHeader header)
    {
        if (!DngHeader.IsWhole(bytes)) return null;
        Mat? picture = LibraryDecoder.Decode(bytes, new()
        {
            Format = MagickFormat.Dng,
            Defines = new DngReadDefines
            {
                DisableAutoBrightness = true,
                UseCameraWhiteBalance = true,
                OutputColor = DngOutputColor.SRGB,
                InterpolationQuality = DngInterpolation.Ppg,
            },
        });
        if (picture is null) return null;
        if (picture.Width < LeastShare * header.Width || picture.Height < LeastShare * header.Height)
        {
            picture.Dispose();
            return null;
        }

        DngHeader.ShadingIn(bytes)?.Undo(picture);
        return picture;
    }
}
