using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Mean of a small rectangle of the card, in linear light.</summary>
/// <param name="Centre">Its centre, mm.</param>
/// <param name="Rgb">Mean colour of the samples inside the photo.</param>
/// <param name="ClippedShare">Share of them at the top of the photo's scale, 0 to 1.</param>
/// <param name="SeenShare">Share of the rectangle inside the photo, 0 to 1.</param>
internal readonly record struct Patch(PlanePoint Centre, LinearRgb Rgb, double ClippedShare, double SeenShare)
{
    /// <summary>Natural logarithm of the luminance; black is kept finite.</summary>
    public double LogLuminance => Math.Log(Math.Max(Rgb.Luminance, 1e-5));
}

/// <summary>The card as the photo shows it, addressed in millimetres. Samples are the photo's own pixels; nothing is warped.</summary>
internal sealed class CardSurface(Picture picture, CardPose pose)
{
    /// <summary>The ways in which the photo's tones may be off.</summary>
    public ToneShift[] ToneShifts => picture.ToneShifts;

    /// <summary>True for a raw photo.</summary>
    public bool IsRaw => picture.IsRaw;

    /// <summary>Mean over a rectangle.</summary>
    /// <param name="xMm">Left edge.</param>
    /// <param name="yMm">Top edge.</param>
    /// <param name="widthMm">Width.</param>
    /// <param name="heightMm">Height.</param>
    /// <param name="samples">Samples along each side.</param>
    public Patch Mean(double xMm, double yMm, double widthMm, double heightMm, int samples)
    {
        // Over a few millimetres the way to the photo is straight to a thousandth of a pixel: only the corners are mapped.
        PlanePoint topLeft = pose.ToPhoto(new(xMm, yMm)), topRight = pose.ToPhoto(new(xMm + widthMm, yMm));
        PlanePoint bottomLeft = pose.ToPhoto(new(xMm, yMm + heightMm)), bottomRight = pose.ToPhoto(new(xMm + widthMm, yMm + heightMm));
        double r = 0, g = 0, b = 0;
        int seen = 0, clipped = 0;
        for (int j = 0; j < samples; j++)
        {
            double down = (j + 0.5) / samples;
            PlanePoint left = topLeft + (bottomLeft - topLeft) * down;
            PlanePoint step = (topRight + (bottomRight - topRight) * down - left) * (1.0 / samples);
            for (int i = 0; i < samples; i++)
            {
                double x = left.X + step.X * (i + 0.5), y = left.Y + step.Y * (i + 0.5);
                if (!picture.Contains(x, y)) continue;
                LinearRgb rgb = picture.At(x, y, out bool isClipped);
                (r, g, b) = (r + rgb.R, g + rgb.G, b + rgb.B);
                seen++;
                if (isClipped) clipped++;
            }
        }

        LinearRgb sum = new(r, g, b);
        PlanePoint centre = new(xMm + widthMm / 2, yMm + heightMm / 2);
        return seen == 0
            ? new(centre, default, 0, 0)
            : new(centre, sum * (1.0 / seen), (double)clipped / seen, (double)seen / (samples * samples));
    }

    /// <summary>
    /// Share of points in a rectangle, its edges included, that are brighter than a threshold; points outside the photo are
    /// not.
    /// </summary>
    /// <param name="xMm">Left edge.</param>
    /// <param name="yMm">Top edge.</param>
    /// <param name="widthMm">Width.</param>
    /// <param name="heightMm">Height.</param>
    /// <param name="points">Points along each side, two or more.</param>
    /// <param name="threshold">Linear luminance, 0 to 1.</param>
    public double ShareBrighter(double xMm, double yMm, double widthMm, double heightMm, int points, double threshold)
    {
        int count = 0;
        for (int j = 0; j < points; j++)
        {
            double y = yMm + heightMm * j / (points - 1);
            for (int i = 0; i < points; i++)
            {
                if (LuminanceAt(new(xMm + widthMm * i / (points - 1), y)) > threshold) count++;
            }
        }

        return (double)count / (points * points);
    }

    /// <summary>The photo's pixel of a point of the card.</summary>
    public PlanePoint ToPhoto(PlanePoint cardMm) => pose.ToPhoto(cardMm);

    /// <summary>Pixels per millimetre of height at a cell's middle.</summary>
    public double PxPerMmAt(Cell cell) => pose.ScaleAt(new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2)).Y;

    /// <summary>sRGB codes of the pixel nearest to a point; null outside the photo.</summary>
    public (byte R, byte G, byte B)? CodesAt(PlanePoint cardMm)
    {
        PlanePoint at = pose.ToPhoto(cardMm);
        return picture.Contains(at.X, at.Y) ? picture.CodesAt(at.X, at.Y) : null;
    }

    /// <summary>Linear luminance at a point; null outside the photo.</summary>
    public double? LuminanceAt(PlanePoint cardMm)
    {
        PlanePoint at = pose.ToPhoto(cardMm);
        return picture.Contains(at.X, at.Y) ? picture.LuminanceAt(at.X, at.Y) : null;
    }

    /// <summary>Squared distance of a point from the middle of the photo, in half diagonals: 1 in the photo's corners.</summary>
    public double RadiusSquaredAt(PlanePoint cardMm)
    {
        PlanePoint at = pose.ToPhoto(cardMm);
        (double x, double y) = picture.Centre;
        return (Math.Pow(at.X - x, 2) + Math.Pow(at.Y - y, 2)) / (x * x + y * y);
    }
}
