using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>A decoded photo: upright, 8-bit sRGB. Owns native memory; the holder disposes it.</summary>
internal sealed unsafe class Picture : IDisposable
{
    /// <summary>From this code on a channel counts as clipped: cameras round their shoulder off just below 255.</summary>
    public const byte ClippedCode = 250;

    /// <summary>
    /// With less green than this beside it, red carries more than a third of the luminance: 0.2126 R > (0.2126 R + 0.7152 G) / 3.
    /// Bare pine and birch have about 0.8 of it.
    /// </summary>
    private const double GreenBesideClippedRed = 0.6;

    private static readonly float[] LinearOfSrgb = [.. Enumerable.Range(0, 256).Select(code => (float)SrgbCurve.Linear(code / 255.0))];

    private readonly float[] _linearOfCode;

    /// <summary>
    /// What each code of blue, green and red adds to the luminance, one table after the other; pinned, and held by
    /// <see cref="_sharesHeld"/>.
    /// </summary>
    private readonly double* _luminanceShares;
    private readonly double[] _sharesHeld = GC.AllocateUninitializedArray<double>(3 * 256, pinned: true);
    private readonly byte* _pixels;
    private readonly long _stride;

    /// <summary>Takes over the picture.</summary>
    /// <param name="bgr">8-bit, blue-green-red; disposed with this object.</param>
    public Picture(Mat bgr) : this(bgr, LinearOfSrgb)
    {
    }

    private Picture(Mat bgr, float[] linearOfCode)
    {
        if (bgr.Type() != MatType.CV_8UC3)
            throw new ArgumentException($"An 8-bit colour picture is needed, not {bgr.Type()}.", nameof(bgr));
        (Bgr, Reduced, _linearOfCode) = (bgr, new(bgr), linearOfCode);
        for (int code = 0; code < 256; code++)
            (_sharesHeld[code], _sharesHeld[256 + code], _sharesHeld[512 + code]) =
                (0.0722 * linearOfCode[code], 0.7152 * linearOfCode[code], 0.2126 * linearOfCode[code]);
        _luminanceShares = (double*)Marshal.UnsafeAddrOfPinnedArrayElement(_sharesHeld, 0);
        _pixels = bgr.DataPointer;
        _stride = bgr.Step();
        (Width, Height) = (bgr.Width, bgr.Height);
    }

    public Mat Bgr { get; }

    /// <summary>The picture in grey at reduced sizes, to search in.</summary>
    public Pyramid Reduced { get; }

    /// <summary>The ways in which its tones may be off: those of any phone, unless its tone curve is known and undone.</summary>
    public ToneShift[] ToneShifts { get; private init; } = ToneBend.Lowest;

    public int Width { get; }

    public int Height { get; }

    /// <summary>Centre of the picture, px: where a phone's optical axis is taken to pass.</summary>
    public (double X, double Y) Centre => ((Width - 1) / 2.0, (Height - 1) / 2.0);

    /// <summary>True where the pixel nearest to the point exists.</summary>
    public bool Contains(double x, double y) => x >= -0.5 && y >= -0.5 && x < Width - 0.5 && y < Height - 0.5;

    /// <summary>The pixel nearest to a point inside the picture, in linear light.</summary>
    /// <param name="x">Right, px.</param>
    /// <param name="y">Down, px.</param>
    /// <param name="isClipped">True where green, which carries most of the luminance, is at the top of the scale, or red where
    /// it carries much of it: warm light on wood clips red alone long before it harms the luminance, on red material it does.</param>
    public LinearRgb At(double x, double y, out bool isClipped)
    {
        byte* pixel = PixelAt((int)(x + 0.5), (int)(y + 0.5));
        LinearRgb rgb = new(_linearOfCode[pixel[2]], _linearOfCode[pixel[1]], _linearOfCode[pixel[0]]);
        isClipped = pixel[1] >= ClippedCode || (pixel[2] >= ClippedCode && rgb.G < GreenBesideClippedRed * rgb.R);
        return rgb;
    }

    /// <summary>The sRGB codes of the pixel nearest to a point inside the picture.</summary>
    public (byte R, byte G, byte B) CodesAt(double x, double y)
    {
        byte* pixel = PixelAt((int)(x + 0.5), (int)(y + 0.5));
        return (pixel[2], pixel[1], pixel[0]);
    }

    /// <summary>Linear luminance between pixels (bilinear), 0 to 1; beyond the edge the edge's own.</summary>
    public double LuminanceAt(double x, double y)
    {
        x = Math.Clamp(x, 0, Width - 1.001);
        y = Math.Clamp(y, 0, Height - 1.001);
        int left = (int)x, top = (int)y;
        double fx = x - left, fy = y - top;
        byte* upper = PixelAt(left, top);
        byte* lower = upper + _stride;
        return (1 - fy) * ((1 - fx) * Luminance(upper) + fx * Luminance(upper + 3))
            + fy * ((1 - fx) * Luminance(lower) + fx * Luminance(lower + 3));
    }

    /// <summary>
    /// The same pixels seen through a tone curve, each channel for itself; they stay this object's own, and are usable as
    /// long as it is.
    /// </summary>
    /// <param name="curve">From linear light by sRGB to linear light.</param>
    /// <param name="doubts">The ways in which it may be off.</param>
    public Picture Through(Func<double, double> curve, params ToneShift[] doubts) =>
        new(Bgr, [.. LinearOfSrgb.Select(linear => (float)curve(linear))]) { ToneShifts = doubts };

    public void Dispose()
    {
        Reduced.Dispose();
        Bgr.Dispose();
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double Luminance(byte* pixel) =>
        _luminanceShares[pixel[0]] + _luminanceShares[256 + pixel[1]] + _luminanceShares[512 + pixel[2]];

    private byte* PixelAt(int x, int y) => _pixels + y * _stride + x * 3L;
}
