using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>How a stored picture is turned upright (Exif 2.3, tag 0x0112).</summary>
/// <param name="width">Width of the stored picture, px.</param>
/// <param name="height">Its height, px.</param>
/// <param name="value">1 to 8: where the stored first row and column belong.</param>
internal sealed class ExifOrientation(int width, int height, int value)
{
    private readonly bool _isTransposed = value >= 5, _runsLeft = value is 2 or 3 or 7 or 8, _runsUp = value is 3 or 4 or 6 or 7;
    private readonly int _right = width - 1, _bottom = height - 1;

    /// <summary>Size of the upright picture, px.</summary>
    public Size Upright => _isTransposed ? new(height, width) : new(width, height);

    /// <summary>Where a point of the upright picture lies in the stored one.</summary>
    public (double X, double Y) ToStored(double x, double y)
    {
        if (_isTransposed) (x, y) = (y, x);
        return (_runsLeft ? _right - x : x, _runsUp ? _bottom - y : y);
    }

    /// <summary>Where a rectangle of the upright picture lies in the stored one.</summary>
    public Rect ToStored(Rect upright)
    {
        (double left, double top) = ToStored(upright.Left, upright.Top);
        (double right, double bottom) = ToStored(upright.Right - 1, upright.Bottom - 1);
        return Rect.FromLTRB((int)Math.Min(left, right), (int)Math.Min(top, bottom), (int)Math.Max(left, right) + 1,
            (int)Math.Max(top, bottom) + 1);
    }

    /// <summary>Turns the stored picture, one made smaller or a part of it.</summary>
    /// <param name="stored">The picture; disposed of.</param>
    public Mat Turn(Mat stored)
    {
        FlipMode? flip = (_runsLeft, _runsUp) switch
        {
            (true, true) => FlipMode.XY,
            (true, false) => FlipMode.Y,
            (false, true) => FlipMode.X,
            _ => null,
        };
        if (flip is { } mode) Cv2.Flip(stored, stored, mode);
        if (!_isTransposed) return stored;
        Mat upright = new();
        Cv2.Transpose(stored, upright);
        stored.Dispose();
        return upright;
    }
}
