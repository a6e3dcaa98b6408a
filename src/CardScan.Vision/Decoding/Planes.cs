using System.Runtime.CompilerServices;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>
/// Pixels as JPEG files store them, in planes of 8 bits: luma at full size, both chromas at full size or at half either way
/// (ITU-T T.871).
/// </summary>
/// <remarks>
/// A chroma pixel lies in the middle of the luma pixels that share it, and chroma is taken between its pixels (bilinear):
/// libjpeg-turbo's decoder does the same, down to the last bit.
/// </remarks>
internal sealed unsafe class Planes : StoredPixels
{
    /// <summary>Chroma of what has no colour.</summary>
    public const byte NoColour = 128;

    private readonly byte* _luma, _blue, _red;
    private readonly int _lumaStride, _chromaStride, _chromaWidth, _chromaHeight, _acrossBits, _downBits;

    /// <summary>
    /// Added before sixteenths of chroma are cut off, at even places and more at odd ones: halves go up and down by turns.
    /// </summary>
    private readonly (int AtEven, int MoreAcross, int MoreDown) _rounding;

    private Mat? _memory;

    /// <summary>Takes memory for a picture, with anything in it.</summary>
    /// <param name="width">Px.</param>
    /// <param name="height">Px.</param>
    /// <param name="sharing">Luma pixels that share a pixel of chroma, across and down: 1 or 2 each.</param>
    /// <param name="unit">There is room for whole units of this size, px, a multiple of <paramref name="sharing"/>.</param>
    public Planes(int width, int height, Size sharing, Size unit) : base(width, height)
    {
        (Sharing, _acrossBits, _downBits) = (sharing, sharing.Width - 1, sharing.Height - 1);
        _rounding = (_acrossBits, _downBits) switch
        {
            (1, 1) => (8, -1, 0),
            (1, 0) => (4, 4, 0),
            (0, 1) => (4, 0, 4),
            _ => (0, 0, 0),
        };
        _lumaStride = Whole(width, unit.Width) * unit.Width;
        (_chromaStride, _chromaWidth, _chromaHeight) =
            (_lumaStride / sharing.Width, Whole(width, sharing.Width), Whole(height, sharing.Height));
        int rows = Whole(height, unit.Height) * unit.Height;
        int luma = _lumaStride * rows, chroma = _chromaStride * (rows / sharing.Height);
        _memory = PictureMemory.Shared.Take(luma + 2 * chroma);
        _luma = _memory.DataPointer;
        _blue = _luma + luma;
        _red = _blue + chroma;
        Luma = Mat.FromPixelData(height, width, MatType.CV_8UC1, (nint)_luma, _lumaStride);
        Blue = Mat.FromPixelData(_chromaHeight, _chromaWidth, MatType.CV_8UC1, (nint)_blue, _chromaStride);
        Red = Mat.FromPixelData(_chromaHeight, _chromaWidth, MatType.CV_8UC1, (nint)_red, _chromaStride);

        static int Whole(int length, int unit) => (length + unit - 1) / unit;
    }

    /// <summary>Luma pixels that share a pixel of chroma, across and down: 1 or 2 each.</summary>
    public Size Sharing { get; }

    /// <summary>Luma, and the chromas Cb and Cr, without what fills up the last units.</summary>
    public Mat Luma { get; }

    public Mat Blue { get; }

    public Mat Red { get; }

    public override (byte Red, byte Green, byte Blue) At(int column, int row)
    {
        const int factorBits = 16, half = 1 << (factorBits - 1);
        int luma = _luma[(long)row * _lumaStride + column];
        (int blue, int red) = ChromaAt(column, row);
        return (Code(luma + ((91881 * red + half) >> factorBits)),
            Code(luma + ((half - 22554 * blue - 46802 * red) >> factorBits)),
            Code(luma + ((116130 * blue + half) >> factorBits)));

        static byte Code(int code) => (byte)Math.Clamp(code, 0, 255);
    }

    public override Mat GreyOf(Rect part)
    {
        using Mat cutOut = new(Luma, part);
        return cutOut.Clone();
    }

    public override Mat HalfGrey() => Halved(Luma);

    public override Mat Warped(Mat right, Mat down)
    {
        using Mat luma = Warped(Luma, right, down), chromaRight = new(), chromaDown = new();
        right.ConvertTo(chromaRight, right.Type(), 1.0 / Sharing.Width, 0.5 / Sharing.Width - 0.5);
        down.ConvertTo(chromaDown, down.Type(), 1.0 / Sharing.Height, 0.5 / Sharing.Height - 0.5);
        using Mat blue = Warped(Blue, chromaRight, chromaDown), red = Warped(Red, chromaRight, chromaDown), whole = new(), rgb = new();
        Cv2.Merge([luma, red, blue], whole);
        Cv2.CvtColor(whole, rgb, ColorConversionCodes.YCrCb2RGB);
        Mat rgba = new();
        Cv2.CvtColor(rgb, rgba, ColorConversionCodes.RGB2RGBA);
        return rgba;
    }

    public override void Dispose()
    {
        if (Interlocked.Exchange(ref _memory, null) is not { } memory) return;
        foreach (Mat plane in new[] { Luma, Blue, Red }) plane.Dispose();
        PictureMemory.Shared.GiveBack(memory);
    }

    /// <summary>Chroma at a pixel of luma, about zero: three parts of the pixel that it shares and one of its neighbour, either way.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private (int Blue, int Red) ChromaAt(int column, int row)
    {
        int left = column >> _acrossBits, top = row >> _downBits;
        int aside = Neighbour(column, left, _chromaWidth, _acrossBits);
        int beyond = Neighbour(row, top, _chromaHeight, _downBits) * _chromaStride;
        int rounding = _rounding.AtEven + (column & 1) * _rounding.MoreAcross + (row & 1) * _rounding.MoreDown;
        long place = (long)top * _chromaStride + left;
        return (Between(_blue + place) - NoColour, Between(_red + place) - NoColour);

        int Between(byte* own) => (3 * (3 * own[0] + own[aside] + own[beyond]) + own[beyond + aside] + rounding) >> 4;
    }

    /// <summary>Steps to the neighbour that lies nearer to a pixel: 1, -1, or 0 where there is none.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Neighbour(int pixel, int shared, int count, int bits) =>
        bits == 0 ? 0 : (pixel & 1) != 0 ? (shared + 1 < count ? 1 : 0) : (shared > 0 ? -1 : 0);
}
