using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>The photo turned upright and rectified, to be looked at; measuring uses the photo itself.</summary>
internal static class Rectifier
{
    /// <summary>HostEnvironment shown on every side of the card, mm.</summary>
    public const double MarginMm = 3;

    private const double MostPxPerMm = 12;

    /// <summary>Pixels of the longer side, at most.</summary>
    private const double LongestSidePx = 2400;

    /// <summary>Renders the card.</summary>
    public static CardPicture Rectify(Picture picture, SolvedPose solved, CardSize card)
    {
        double widthMm = card.WidthMm + 2 * MarginMm, heightMm = card.HeightMm + 2 * MarginMm;
        double scale = Math.Min(Math.Min(MostPxPerMm, solved.PxPerMm), LongestSidePx / Math.Max(widthMm, heightMm));
        int width = (int)Math.Round(widthMm * scale), height = (int)Math.Round(heightMm * scale);

        using Mat mapX = new(height, width, MatType.CV_32FC1), mapY = new(height, width, MatType.CV_32FC1);
        for (int y = 0; y < height; y++)
        {
            Span<float> rowX = mapX.RowSpan<float>(y), rowY = mapY.RowSpan<float>(y);
            for (int x = 0; x < width; x++)
            {
                PlanePoint at = solved.Pose.ToPhoto(new((x + 0.5) / scale - MarginMm, (y + 0.5) / scale - MarginMm));
                (rowX[x], rowY[x]) = ((float)at.X, (float)at.Y);
            }
        }

        using Mat warped = new(), rgba = new();
        Cv2.Remap(picture.Bgr, warped, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Constant, new Scalar(128, 128, 128));
        Cv2.CvtColor(warped, rgba, ColorConversionCodes.BGR2RGBA);
        return new CardPicture(width, height, scale, MarginMm, rgba.AsSpan<byte>().ToArray());
    }
}
