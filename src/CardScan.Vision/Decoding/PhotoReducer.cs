using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Photos made small, for a list: quickly, and of damaged files whatever can be shown of them.</summary>
internal static class PhotoReducer
{
    /// <summary>Longest side of a small picture, px: two of a screen's pixels for each of 240 on the page.</summary>
    private const int LongestPx = 480;

    private const int MostBytes = 40_000;

    private static readonly int[] Qualities = [80, 65, 50, 35, 20];

    /// <summary>Sides this many times as long as wanted are reduced while they are decoded, which leaves out most of the work.</summary>
    private static readonly (int Times, ImreadModes Mode)[] Reductions =
        [(8, ImreadModes.ReducedColor8), (4, ImreadModes.ReducedColor4), (2, ImreadModes.ReducedColor2), (1, ImreadModes.Color)];

    /// <summary>A small picture; null where the file shows nothing.</summary>
    /// <remarks>Colours are taken for sRGB, whatever the file says.</remarks>
    public static SmallPicture? Reduce(ReadOnlySpan<byte> bytes)
    {
        Outcome<(PhotoFormat Format, PhotoHeader Header)> judged = PhotoDecoder.Judge(bytes);
        if (judged.IsRefused) return null;
        PhotoHeader header = judged.Value.Header;
        using Mat? picture = judged.Value.Format switch
        {
            PhotoFormat.Heif => HeifDecoder.Decode(bytes, out _),
            PhotoFormat.Dng => Turned(DngDecoder.Decode(bytes, header), header),
            _ => Decode(bytes, header),
        };
        return picture is null ? null : Small(picture);
    }

    private static Mat? Decode(ReadOnlySpan<byte> bytes, PhotoHeader header)
    {
        long longest = Math.Max(header.Width, header.Height);
        ImreadModes mode = Reductions.First(each => each.Times == 1 || longest >= each.Times * LongestPx).Mode;
        Mat stored = Cv2.ImDecode(bytes, mode | ImreadModes.IgnoreOrientation);
        if (!stored.Empty() && stored.Type() == MatType.CV_8UC3) return Turned(stored, header);
        stored.Dispose();
        return null;
    }

    private static Mat? Turned(Mat? stored, PhotoHeader header) =>
        stored is null ? null : new ExifOrientation(stored.Width, stored.Height, header.Orientation).Turn(stored);

    private static SmallPicture Small(Mat picture)
    {
        double scale = Math.Min(1, (double)LongestPx / Math.Max(picture.Width, picture.Height));
        Size size = new(Math.Max(1, Math.Round(scale * picture.Width)), Math.Max(1, Math.Round(scale * picture.Height)));
        using Mat small = new();
        Cv2.Resize(picture, small, size, 0, 0, InterpolationFlags.Area);
        byte[] jpeg = [];
        foreach (int quality in Qualities)
        {
            Cv2.ImEncode(".jpg", small, out jpeg, new ImageEncodingParam(ImwriteFlags.JpegQuality, quality));
            if (jpeg.Length <= MostBytes) break;
        }

        return new(jpeg, size.Width, size.Height);
    }
}
