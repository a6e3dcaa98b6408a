using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>A decoded photo: 8-bit sRGB, addressed upright. Owns memory; the holder disposes it.</summary>
/// <remarks>
/// The pixels stay as they are stored, luma and chroma, unturned: nearly all of what is measured looks at a small part of them.
/// </remarks>
internal sealed unsafe class Picture : IDisposable
{
    /// <summary>From this code on a channel counts as clipped: cameras round their shoulder off just below 255.</summary>
    public const byte ClippedCode = 250;

    /// <summary>
    /// With less green than this beside it, red carries more than a third of the luminance: 0.2126 R > (0.2126 R + 0.7152 G) / 3.
    /// Bare pine and birch have about 0.8 of it.
    /// </summary>
    private const double GreenBesideClippedRed = 0.6;

    /// <summary>Positions between pixels at which chroma is looked up.</summary>
    private const int PositionsPerPx = 32;

    /// <summary>Bits of chroma between its pixels behind the point.</summary>
    private const int ChromaBits = 12;

    /// <summary>Chroma takes a code at most so far beyond the scale.</summary>
    private const int Beyond = 256;

    private static readonly Levels LevelsOfSrgb = new(linear => linear);

    private readonly Planes _planes;
    private readonly ExifOrientation _orientation;
    private readonly Levels _held;
    private readonly byte* _luma, _blue, _red;
    private readonly int _lumaStride, _chromaStride;
    private readonly double* _levels;

    /// <summary>Takes over the picture.</summary>
    /// <param name="planes">Disposed with this object.</param>
    /// <param name="orientation">As in <see cref="ExifOrientation"/>.</param>
    public Picture(Planes planes, int orientation = 1)
        : this(planes, new(planes.Width, planes.Height, orientation), LevelsOfSrgb)
    {
    }

    private Picture(Planes planes, ExifOrientation orientation, Levels levels)
    {
        (_planes, _orientation, _held) = (planes, orientation, levels);
        _luma = planes.LumaPixels;
        _blue = planes.BluePixels;
        _red = planes.RedPixels;
        _levels = _held.First;
        (_lumaStride, _chromaStride) = (planes.LumaStride, planes.ChromaStride);
        (Width, Height) = (orientation.Upright.Width, orientation.Upright.Height);
        Reduced = new(planes.Luma, orientation);
    }

    /// <summary>The picture in grey at reduced sizes, to search in.</summary>
    public Pyramid Reduced { get; }

    /// <summary>True where the phone's tone curve is known and undone.</summary>
    public bool IsToneKnown { get; private init; }

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
        (int red, int green, int blue) = PixelAt(x, y);
        LinearRgb rgb = new(_levels[Levels.Fine * red], _levels[Levels.Fine * green], _levels[Levels.Fine * blue]);
        isClipped = green >= ClippedCode || (red >= ClippedCode && rgb.G < GreenBesideClippedRed * rgb.R);
        return rgb;
    }

    /// <summary>The sRGB codes of the pixel nearest to a point inside the picture.</summary>
    public (byte R, byte G, byte B) CodesAt(double x, double y)
    {
        (int red, int green, int blue) = PixelAt(x, y);
        return (Code(red), Code(green), Code(blue));

        static byte Code(int code) => (byte)Math.Clamp(code, 0, 255);
    }

    /// <summary>Linear luminance between pixels (bilinear), 0 to 1; beyond the edge the edge's own.</summary>
    public double LuminanceAt(double x, double y)
    {
        (x, y) = _orientation.ToStored(x, y);
        x = Math.Min(Math.Max(x, 0), _planes.Width - 1.001);
        y = Math.Min(Math.Max(y, 0), _planes.Height - 1.001);
        int left = (int)x, top = (int)y;
        byte* upper = _luma + (long)top * _lumaStride + left, lower = upper + _lumaStride;
        int a = Levels.Fine * upper[0], b = Levels.Fine * upper[1], c = Levels.Fine * lower[0], d = Levels.Fine * lower[1];
        double right = x - left, below = y - top, shareOfD = right * below;
        double shareOfA = 1 - right - below + shareOfD, shareOfB = right - shareOfD, shareOfC = below - shareOfD;
        (int ofBlue, int ofRed) = ChromaBetween((int)(PositionsPerPx * x), (int)(PositionsPerPx * y));
        const int noColour = Planes.NoColour << ChromaBits;
        Tint tint = Tint.Of(ofBlue - noColour, ofRed - noColour, ChromaBits - Levels.FineBits);
        double* red = _levels + tint.Red, green = _levels + tint.Green, blue = _levels + tint.Blue;
        return shareOfA * (0.2126 * red[a] + 0.7152 * green[a] + 0.0722 * blue[a])
            + shareOfB * (0.2126 * red[b] + 0.7152 * green[b] + 0.0722 * blue[b])
            + shareOfC * (0.2126 * red[c] + 0.7152 * green[c] + 0.0722 * blue[c])
            + shareOfD * (0.2126 * red[d] + 0.7152 * green[d] + 0.0722 * blue[d]);
    }

    /// <summary>
    /// The same pixels seen through a tone curve, each channel for itself; they stay this object's own, and are usable as
    /// long as it is.
    /// </summary>
    /// <param name="curve">From linear light by sRGB to linear light.</param>
    public Picture Through(Func<double, double> curve) =>
        new(_planes, _orientation, new Levels(curve)) { IsToneKnown = true };

    /// <summary>A part of the picture in grey, to search in; the caller disposes it.</summary>
    public Mat GreyOf(Rect part)
    {
        using Mat stored = new(_planes.Luma, _orientation.ToStored(part));
        return _orientation.Turn(stored.Clone());
    }

    /// <summary>The picture seen from elsewhere, red-green-blue-alpha; the caller disposes it.</summary>
    /// <param name="width">Px.</param>
    /// <param name="height">Px.</param>
    /// <param name="place">The place in this picture of each pixel, px.</param>
    public Mat Warped(int width, int height, Func<int, int, PlanePoint> place)
    {
        using Mat mapX = new(height, width, MatType.CV_32FC1), mapY = new(height, width, MatType.CV_32FC1);
        for (int y = 0; y < height; y++)
        {
            Span<float> rowX = mapX.RowSpan<float>(y), rowY = mapY.RowSpan<float>(y);
            for (int x = 0; x < width; x++)
            {
                PlanePoint at = place(x, y);
                (double storedX, double storedY) = _orientation.ToStored(at.X, at.Y);
                (rowX[x], rowY[x]) = ((float)storedX, (float)storedY);
            }
        }

        using Mat luma = Warp(_planes.Luma);
        foreach (Mat map in new[] { mapX, mapY }) map.ConvertTo(map, MatType.CV_32FC1, 0.5, -0.25);
        using Mat blue = Warp(_planes.Blue), red = Warp(_planes.Red), whole = new(), rgb = new();
        Cv2.Merge([luma, red, blue], whole);
        Cv2.CvtColor(whole, rgb, ColorConversionCodes.YCrCb2RGB);
        Mat rgba = new();
        Cv2.CvtColor(rgb, rgba, ColorConversionCodes.RGB2RGBA);
        return rgba;

        Mat Warp(Mat plane)
        {
            Mat warped = new();
            Cv2.Remap(plane, warped, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Constant, Scalar.All(Planes.NoColour));
            return warped;
        }
    }

    public void Dispose()
    {
        Reduced.Dispose();
        _planes.Dispose();
    }

    /// <summary>Red, green and blue of the nearest pixel as decoders give them, but not cut off at the ends of the scale.</summary>
    private (int Red, int Green, int Blue) PixelAt(double x, double y)
    {
        (x, y) = _orientation.ToStored(x, y);
        int column = Math.Clamp((int)(x + 0.5), 0, _planes.Width - 1), row = Math.Clamp((int)(y + 0.5), 0, _planes.Height - 1);
        (int blue, int red) = ChromaBetween(PositionsPerPx * column, PositionsPerPx * row);
        // Halves are rounded up and down by turns.
        int half = (8 - (column & 1)) << (ChromaBits - 4), luma = _luma[(long)row * _lumaStride + column];
        Tint tint = Tint.Of(((blue + half) >> ChromaBits) - Planes.NoColour, ((red + half) >> ChromaBits) - Planes.NoColour, 0);
        return (luma + tint.Red, luma + tint.Green, luma + tint.Blue);
    }

    /// <summary>The chroma between its pixels (bilinear), which lie in the middle of four pixels of luma.</summary>
    /// <param name="u">Right, in steps of which a pixel of luma has <see cref="PositionsPerPx"/>, and one of chroma 64.</param>
    /// <param name="v">Down.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private (int Blue, int Red) ChromaBetween(int u, int v)
    {
        (u, v) = (Math.Max(0, u - PositionsPerPx / 2), Math.Max(0, v - PositionsPerPx / 2));
        (int left, int top) = (u >> 6, v >> 6);
        int right = left + 1 < _planes.ChromaWidth ? 1 : 0, below = top + 1 < _planes.ChromaHeight ? _chromaStride : 0;
        (u, v) = (u & 63, v & 63);
        int shareOfA = (64 - u) * (64 - v), shareOfB = u * (64 - v), shareOfC = (64 - u) * v, shareOfD = u * v;
        long first = (long)top * _chromaStride + left;
        byte* blue = _blue + first, red = _red + first;
        return (shareOfA * blue[0] + shareOfB * blue[right] + shareOfC * blue[below] + shareOfD * blue[below + right],
            shareOfA * red[0] + shareOfB * red[right] + shareOfC * red[below] + shareOfD * red[below + right]);
    }

    /// <summary>What chroma adds to the luma's code in each channel (ITU-T T.871).</summary>
    private readonly record struct Tint(int Red, int Green, int Blue)
    {
        private const int FactorBits = 16;

        /// <param name="blue">Cb, about zero.</param>
        /// <param name="red">Cr, about zero.</param>
        /// <param name="spare">Bits that both have more behind the point than the sums get.</param>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public static Tint Of(long blue, long red, int spare)
        {
            long half = 1L << (FactorBits + spare - 1);
            return new((int)((91881 * red + half) >> (FactorBits + spare)),
                (int)((half - 22554 * blue - 46802 * red) >> (FactorBits + spare)),
                (int)((116130 * blue + half) >> (FactorBits + spare)));
        }
    }

    /// <summary>
    /// Linear light of each quarter of a code, and of those that chroma takes beyond the ends of the scale: the ends' own.
    /// </summary>
    private sealed class Levels
    {
        public const int FineBits = 2, Fine = 1 << FineBits;

        private readonly double[] _held = GC.AllocateUninitializedArray<double>(3 * Beyond * Fine, pinned: true);

        public Levels(Func<double, double> curve)
        {
            for (int i = 0; i < _held.Length; i++)
                _held[i] = curve(SrgbCurve.Linear(Math.Clamp((double)i / Fine - Beyond, 0, 255) / 255));
            First = (double*)Marshal.UnsafeAddrOfPinnedArrayElement(_held, Beyond * Fine);
        }

        /// <summary>That of code 0; the memory is held by this object.</summary>
        public double* First { get; }
    }
}
