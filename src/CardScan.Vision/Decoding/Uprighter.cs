using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Turns stored pictures upright.</summary>
internal static class Uprighter
{
    /// <summary>Applies an orientation (Exif 2.3, tag 0x0112) and disposes what it replaces.</summary>
    /// <param name="stored">The picture as stored.</param>
    /// <param name="orientation">1 to 8: where the stored first row and column belong.</param>
    public static Mat Turn(Mat stored, int orientation)
    {
        if (orientation == 1) return stored;
        Mat upright = new();
        switch (orientation)
        {
            case 2: Cv2.Flip(stored, upright, FlipMode.Y); break;
            case 3: Cv2.Rotate(stored, upright, RotateFlags.Rotate180); break;
            case 4: Cv2.Flip(stored, upright, FlipMode.X); break;
            case 5: Cv2.Transpose(stored, upright); break;
            case 6: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Clockwise); break;
            case 7:
                using (Mat transposed = new())
                {
                    Cv2.Transpose(stored, transposed);
                    Cv2.Rotate(transposed, upright, RotateFlags.Rotate180);
                }

                break;
            default: Cv2.Rotate(stored, upright, RotateFlags.Rotate90Counterclockwise); break;
        }

        stored.Dispose();
        return upright;
    }
}
