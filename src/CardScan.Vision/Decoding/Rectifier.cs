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

        using Mat rgba = picture.Warped(width, height,
            (x, y) => solved.Pose.ToPhoto(new((x + 0.5) / scale - MarginMm, (y + 0.5) / scale - MarginMm)));
        return new CardPicture(width, height, scale, MarginMm, rgba.AsSpan<byte>().ToArray());
    }
}
