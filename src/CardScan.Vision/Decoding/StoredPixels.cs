using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>The pixels of a picture as its file stores them, unturned. Owns native memory; the holder disposes it.</summary>
/// <param name="width">Px.</param>
/// <param name="height">Px.</param>
internal abstract class StoredPixels(int width, int height) : IDisposable
{
    public int Width { get; } = width;

    public int Height { get; } = height;

    /// <summary>The codes of a pixel inside the picture.</summary>
    public abstract (byte Red, byte Green, byte Blue) At(int column, int row);

    /// <summary>Luminance between pixels (bilinear).</summary>
    /// <param name="x">Right, px, 0 to less than the last pixel.</param>
    /// <param name="y">Down, the same.</param>
    /// <param name="shares">What each code adds to it.</param>
    public abstract double LuminanceAt(double x, double y, LuminanceShares shares);

    /// <summary>A part of the picture in grey; the caller disposes it.</summary>
    public abstract Mat GreyOf(Rect part);

    /// <summary>The picture in grey at half its size; the caller disposes it.</summary>
    public abstract Mat HalfGrey();

    /// <summary>The picture seen from elsewhere, red-green-blue-alpha, grey outside; the caller disposes it.</summary>
    /// <param name="right">The place in this picture of each pixel, px; 32-bit.</param>
    /// <param name="down">The same down.</param>
    public abstract Mat Warped(Mat right, Mat down);

    public abstract void Dispose();

    /// <summary>Makes a picture half as large.</summary>
    public static Mat Halved(Mat picture)
    {
        Mat half = new();
        Cv2.Resize(picture, half, new Size(Math.Max(1, picture.Width / 2), Math.Max(1, picture.Height / 2)), 0, 0, InterpolationFlags.Area);
        return half;
    }

    /// <summary>A value between four pixels.</summary>
    /// <param name="x">Right of the left ones, 0 to 1.</param>
    /// <param name="y">Below the upper ones, 0 to 1.</param>
    /// <param name="a">Upper left.</param>
    /// <param name="b">Upper right.</param>
    /// <param name="c">Lower left.</param>
    /// <param name="d">Lower right.</param>
    protected static double Between(double x, double y, double a, double b, double c, double d) =>
        (1 - y) * ((1 - x) * a + x * b) + y * ((1 - x) * c + x * d);

    /// <summary>Sees a picture from elsewhere; outside it every channel is in the middle of the scale.</summary>
    protected static Mat Warped(Mat picture, Mat right, Mat down)
    {
        Mat warped = new();
        Cv2.Remap(picture, warped, right, down, InterpolationFlags.Linear, BorderTypes.Constant, Scalar.All(128));
        return warped;
    }
}
