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
        (int red, int green, int blue) = CodesOf(_luma[(long)row * _lumaStride + column], Across(column), Down(row));
        return (Code(red), Code(green), Code(blue));

        static byte Code(int code) => (byte)Math.Clamp(code, 0, 255);
    }

    public override double LuminanceAt(double x, double y, LuminanceShares shares)
    {
        int column = (int)x, row = (int)y;
        Chroma left = Across(column), right = Across(column + 1), upper = Down(row), lower = Down(row + 1);
        byte* luma = _luma + (long)row * _lumaStride + column, below = luma + _lumaStride;
        return Between(x - column, y - row, Of(luma[0], left, upper), Of(luma[1], right, upper), Of(below[0], left, lower),
            Of(below[1], right, lower));

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        double Of(int code, Chroma across, Chroma down)
        {
            (int red, int green, int blue) = CodesOf(code, across, down);
            return shares.Of(red, green, blue);
        }
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

    /// <summary>Red, green and blue, which may lie beyond the ends of the scale.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private (int Red, int Green, int Blue) CodesOf(int luma, Chroma across, Chroma down)
    {
        const int factorBits = 16, half = 1 << (factorBits - 1);
        int blue = Between(_blue, across, down) - NoColour, red = Between(_red, across, down) - NoColour;
        return (luma + ((91881 * red + half) >> factorBits), luma + ((half - 22554 * blue - 46802 * red) >> factorBits),
            luma + ((116130 * blue + half) >> factorBits));
    }

    /// <summary>Chroma at a pixel of luma: three parts of the one that it shares and one of its neighbour, either way.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Between(byte* plane, Chroma across, Chroma down)
    {
        byte* own = plane + down.Own, beyond = plane + down.Neighbour;
        int sum = 3 * (3 * own[across.Own] + own[across.Neighbour] + beyond[across.Own]) + beyond[across.Neighbour];
        return (sum + across.Rounding + down.Rounding) >> 4;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Chroma Across(int column) =>
        Chroma.Of(column, _acrossBits, _chromaWidth - 1, stride: 1, _rounding.AtEven + (column & 1) * _rounding.MoreAcross);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Chroma Down(int row) => Chroma.Of(row, _downBits, _chromaHeight - 1, _chromaStride, (row & 1) * _rounding.MoreDown);

    /// <summary>Where the chroma of a pixel of luma lies, in one direction.</summary>
    /// <param name="Own">Offset of the chroma that it shares.</param>
    /// <param name="Neighbour">And of the next one on its side.</param>
    /// <param name="Rounding">Added before sixteenths are cut off.</param>
    private readonly record struct Chroma(int Own, int Neighbour, int Rounding)
    {
        /// <remarks>Without a branch: no processor could foretell whether a place is odd.</remarks>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public static Chroma Of(int pixel, int bits, int last, int stride, int rounding)
        {
            int own = pixel >> bits, neighbour = own + (((pixel & 1) * 2 - 1) & -bits);
            neighbour &= ~(neighbour >> 31);
            int over = last - neighbour;
            return new(own * stride, (neighbour + (over & over >> 31)) * stride, rounding);
        }
    }
}
