using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>A decoded photo: 8 bits a channel, addressed upright. Owns native memory; the holder disposes it.</summary>
/// <remarks>
/// The pixels stay as they are stored: turning them all, or giving all of them their colour, costs more than what is measured,
/// which looks at a small part of them.
/// </remarks>
internal sealed class Picture : IDisposable
{
    /// <summary>
    /// With less green than this beside it, red carries more than a third of the luminance: 0.2126 R > (0.2126 R + 0.7152 G) / 3.
    /// Bare pine and birch have about 0.8 of it.
    /// </summary>
    private const double GreenBesideClippedRed = 0.6;

    private readonly StoredPixels _pixels;
    private readonly ExifOrientation _orientation;
    private readonly CodeScale _tones;
    private readonly float[] _linearOfCode;
    private readonly LuminanceShares _luminanceShares;

    /// <summary>Takes over the pixels of a picture.</summary>
    /// <param name="pixels">Disposed with this object.</param>
    /// <param name="orientation">As in <see cref="ExifOrientation"/>.</param>
    /// <param name="tones">What their codes stand for; sRGB where it is left out.</param>
    public Picture(StoredPixels pixels, int orientation = 1, CodeScale? tones = null)
        : this(pixels, new ExifOrientation(pixels.Width, pixels.Height, orientation), tones ?? CodeScale.Srgb)
    {
    }

    private Picture(StoredPixels pixels, ExifOrientation orientation, CodeScale tones)
    {
        (_pixels, _orientation, _tones, _linearOfCode) = (pixels, orientation, tones, tones.LinearOfCode);
        Reduced = new(pixels, orientation);
        (Width, Height) = (orientation.Upright.Width, orientation.Upright.Height);
        _luminanceShares = new(_linearOfCode);
    }

    /// <summary>The picture in grey at reduced sizes, to search in.</summary>
    public Pyramid Reduced { get; }

    /// <summary>The ways in which its tones may be off: those of any phone, unless its tone curve is known and undone.</summary>
    public ToneShift[] ToneShifts => _tones.Shifts;

    /// <summary>True for a raw photo: light as the sensor saw it, with no curve to undo.</summary>
    public bool IsRaw => ReferenceEquals(_tones, CodeScale.Raw);

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
        (byte red, byte green, byte blue) = CodesAt(x, y);
        LinearRgb rgb = new(_linearOfCode[red], _linearOfCode[green], _linearOfCode[blue]);
        isClipped = green >= _tones.ClippedCode || (red >= _tones.ClippedCode && rgb.G < GreenBesideClippedRed * rgb.R);
        return rgb;
    }

    /// <summary>The codes of the pixel nearest to a point inside the picture.</summary>
    public (byte R, byte G, byte B) CodesAt(double x, double y)
    {
        (x, y) = _orientation.ToStored((int)(x + 0.5), (int)(y + 0.5));
        return _pixels.At((int)x, (int)y);
    }

    /// <summary>Linear luminance between pixels (bilinear), 0 to 1; beyond the edge the edge's own.</summary>
    public double LuminanceAt(double x, double y)
    {
        (x, y) = _orientation.ToStored(x, y);
        return _pixels.LuminanceAt(Math.Clamp(x, 0, _pixels.Width - 1.001), Math.Clamp(y, 0, _pixels.Height - 1.001), _luminanceShares);
    }

    /// <summary>
    /// The same pixels seen through a tone curve, each channel for itself; they stay this object's own, and are usable as
    /// long as it is.
    /// </summary>
    /// <param name="curve">From linear light as the codes stand for it to linear light.</param>
    /// <param name="doubts">The ways in which it may be off.</param>
    public Picture Through(Func<double, double> curve, params ToneShift[] doubts) => new(
        _pixels, _orientation,
        _tones with { LinearOfCode = [.. _linearOfCode.Select(linear => (float)curve(linear))], Shifts = doubts });

    /// <summary>A part of the picture in grey, to search in; the caller disposes it.</summary>
    public Mat GreyOf(Rect part) => _orientation.Turn(_pixels.GreyOf(_orientation.ToStored(part)));

    /// <summary>The picture seen from elsewhere, red-green-blue-alpha; the caller disposes it.</summary>
    /// <param name="width">Px.</param>
    /// <param name="height">Px.</param>
    /// <param name="place">The place in this picture of each pixel, px.</param>
    public Mat Warped(int width, int height, Func<int, int, PlanePoint> place)
    {
        using Mat right = new(height, width, MatType.CV_32FC1), down = new(height, width, MatType.CV_32FC1);
        for (int y = 0; y < height; y++)
        {
            Span<float> rowRight = right.RowSpan<float>(y), rowDown = down.RowSpan<float>(y);
            for (int x = 0; x < width; x++)
            {
                PlanePoint at = place(x, y);
                (double storedX, double storedY) = _orientation.ToStored(at.X, at.Y);
                (rowRight[x], rowDown[x]) = ((float)storedX, (float)storedY);
            }
        }

        return _pixels.Warped(right, down);
    }

    public void Dispose()
    {
        Reduced.Dispose();
        _pixels.Dispose();
    }
}
