using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>
/// A picture as it is stored, in planes of 8 bits: luma at full size, both chromas at half (ITU-T T.871). The holder disposes it.
/// </summary>
/// <remarks>A chroma pixel lies in the middle of the four luma pixels that it belongs to.</remarks>
internal sealed unsafe class Planes : IDisposable
{
    /// <summary>Chroma of what has no colour.</summary>
    public const byte NoColour = 128;

    private const int StripRows = 256;

    private Mat? _memory;

    /// <summary>Takes memory for a picture, with anything in it.</summary>
    /// <param name="width">Px.</param>
    /// <param name="height">Px.</param>
    /// <param name="unitWidth">There is room for whole units of this width, px, an even number.</param>
    /// <param name="unitHeight">And of this height.</param>
    public Planes(int width, int height, int unitWidth = 2, int unitHeight = 2)
    {
        (Width, Height) = (width, height);
        LumaStride = (width + unitWidth - 1) / unitWidth * unitWidth;
        ChromaStride = LumaStride / 2;
        int rows = (height + unitHeight - 1) / unitHeight * unitHeight, luma = LumaStride * rows, chroma = ChromaStride * (rows / 2);
        _memory = PictureMemory.Shared.Take(luma + 2 * chroma);
        LumaPixels = _memory.DataPointer;
        BluePixels = LumaPixels + luma;
        RedPixels = BluePixels + chroma;
        Luma = Mat.FromPixelData(height, width, MatType.CV_8UC1, (nint)LumaPixels, LumaStride);
        Blue = Mat.FromPixelData(ChromaHeight, ChromaWidth, MatType.CV_8UC1, (nint)BluePixels, ChromaStride);
        Red = Mat.FromPixelData(ChromaHeight, ChromaWidth, MatType.CV_8UC1, (nint)RedPixels, ChromaStride);
    }

    public int Width { get; }

    public int Height { get; }

    public int ChromaWidth => (Width + 1) / 2;

    public int ChromaHeight => (Height + 1) / 2;

    /// <summary>Luma, and the chromas Cb and Cr, without what fills up the last units.</summary>
    public Mat Luma { get; }

    public Mat Blue { get; }

    public Mat Red { get; }

    /// <summary>The first pixels of the planes, and the bytes from row to row.</summary>
    public byte* LumaPixels { get; }

    public byte* BluePixels { get; }

    public byte* RedPixels { get; }

    public int LumaStride { get; }

    public int ChromaStride { get; }

    /// <summary>The planes of a picture.</summary>
    /// <param name="bgr">8-bit, blue-green-red.</param>
    public static Planes Of(Mat bgr)
    {
        Planes planes = new(bgr.Width, bgr.Height);
        foreach ((int top, int bottom) in planes.Strips())
        {
            using Mat strip = bgr.RowRange(top, bottom);
            planes.Put(strip, top);
        }

        return planes;
    }

    /// <summary>Changes all colours.</summary>
    /// <param name="change">From a strip of the picture, blue-green-red, to itself; false ends it.</param>
    /// <returns>False where it ended.</returns>
    public bool TryChange(Func<Mat, bool> change)
    {
        foreach ((int top, int bottom) in Strips())
        {
            using Mat strip = Strip(top, bottom);
            if (!change(strip)) return false;
            Put(strip, top);
        }

        return true;
    }

    public void Dispose()
    {
        if (Interlocked.Exchange(ref _memory, null) is not { } memory) return;
        foreach (Mat plane in new[] { Luma, Blue, Red }) plane.Dispose();
        PictureMemory.Shared.GiveBack(memory);
    }

    /// <summary>Strips of an even number of rows, so that copies stay small.</summary>
    private IEnumerable<(int Top, int Bottom)> Strips()
    {
        for (int top = 0; top < Height; top += StripRows) yield return (top, Math.Min(top + StripRows, Height));
    }

    private Mat Strip(int top, int bottom)
    {
        using Mat luma = Luma.RowRange(top, bottom), whole = new(), bgr = new();
        using Mat blue = Enlarged(Blue, top, bottom), red = Enlarged(Red, top, bottom);
        Cv2.Merge([luma, red, blue], whole);
        Mat strip = new();
        Cv2.CvtColor(whole, strip, ColorConversionCodes.YCrCb2BGR);
        return strip;
    }

    private Mat Enlarged(Mat chroma, int top, int bottom)
    {
        using Mat half = chroma.RowRange(top / 2, (bottom + 1) / 2), even = new();
        Cv2.Resize(half, even, default, 2, 2, InterpolationFlags.Nearest);
        return new Mat(even, new Rect(0, 0, Width, bottom - top));
    }

    private void Put(Mat bgr, int top)
    {
        // The last column and row are doubled where they have no neighbour to share their chroma with.
        (int width, int height) = (2 * ChromaWidth, (bgr.Height + 1) / 2 * 2);
        using Mat even = new(), whole = new(), chroma = new();
        Cv2.CopyMakeBorder(bgr, even, 0, height - bgr.Height, 0, width - bgr.Width, BorderTypes.Replicate | BorderTypes.Isolated);
        Cv2.CvtColor(even, whole, ColorConversionCodes.BGR2YCrCb);
        using Mat luma = Mat.FromPixelData(height, width, MatType.CV_8UC1, (nint)(LumaPixels + (long)top * LumaStride), LumaStride);
        Cv2.ExtractChannel(whole, luma, 0);
        PutHalf(1, Red);
        PutHalf(2, Blue);

        void PutHalf(int channel, Mat plane)
        {
            using Mat rows = plane.RowRange(top / 2, (top + height) / 2);
            Cv2.ExtractChannel(whole, chroma, channel);
            Cv2.Resize(chroma, rows, rows.Size(), 0, 0, InterpolationFlags.Area);
        }
    }
}
