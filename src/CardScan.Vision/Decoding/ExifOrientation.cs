using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>How a stored picture is turned upright (Exif 2.3, tag 0x0112).</summary>
/// <param name="Width">Width of the stored picture, px.</param>
/// <param name="Height">Its height, px.</param>
/// <param name="Value">1 to 8: where the stored first row and column belong.</param>
internal readonly record struct ExifOrientation(int Width, int Height, int Value)
{
    private bool IsTransposed => Value >= 5;

    private bool RunsLeft => Value is 2 or 3 or 7 or 8;

    private bool RunsUp => Value is 3 or 4 or 6 or 7;

    /// <summary>Size of the upright picture, px.</summary>
    public Size Upright => IsTransposed ? new(Height, Width) : new(Width, Height);

    /// <summary>Where a point of the upright picture lies in the stored one.</summary>
    public (double X, double Y) ToStored(double x, double y)
    {
        if (IsTransposed) (x, y) = (y, x);
        return (RunsLeft ? Width - 1 - x : x, RunsUp ? Height - 1 - y : y);
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
        FlipMode? flip = (RunsLeft, RunsUp) switch
        {
            (true, true) => FlipMode.XY,
            (true, false) => FlipMode.Y,
            (false, true) => FlipMode.X,
            _ => null,
        };
        if (flip is { } mode) Cv2.Flip(stored, stored, mode);
        if (!IsTransposed) return stored;
        Mat upright = new();
        Cv2.Transpose(stored, upright);
        stored.Dispose();
        return upright;
    }
}
