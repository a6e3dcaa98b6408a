using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Turns stored pictures upright.</summary>
internal static class ExifOrientation
{
    /// <summary>Applies an orientation (Exif 2.3, tag 0x0112) and disposes what it replaces.</summary>
    /// <param name="stored">The picture as stored.</param>
    /// <param name="orientation">1 to 8: where the stored first row and column belong.</param>
    public static Mat Turn(Mat stored, int orientation)
    {
        if (orientation == 1) return stored;
        if (orientation <= 4)
        {
            // In place: a second picture costs as much time as decoding did.
            Cv2.Flip(stored, stored, orientation switch { 2 => FlipMode.Y, 3 => FlipMode.XY, _ => FlipMode.X });
            return stored;
        }

        Mat upright = new();
        switch (orientation)
        {
            case 5: Cv2.Transpose(stored, upright); break;
            case 6: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Clockwise); break;
            case 7:
                Cv2.Transpose(stored, upright);
                Cv2.Flip(upright, upright, FlipMode.XY);
                break;
            default: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Counterclockwise); break;
        }

        stored.Dispose();
        return upright;
    }
}
