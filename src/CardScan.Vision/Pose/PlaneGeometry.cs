namespace CardScan.Vision;

/// <summary>A point of a plane: millimetres of the card or pixels of the photo, as the name of the variable says.</summary>
/// <param name="X">Right.</param>
/// <param name="Y">Down.</param>
internal readonly record struct PlanePoint(double X, double Y)
{
    public static PlanePoint operator +(PlanePoint a, PlanePoint b) => new(a.X + b.X, a.Y + b.Y);

    public static PlanePoint operator -(PlanePoint a, PlanePoint b) => new(a.X - b.X, a.Y - b.Y);

    public static PlanePoint operator *(PlanePoint a, double factor) => new(a.X * factor, a.Y * factor);

    public double Length => Math.Sqrt(X * X + Y * Y);

    public double DistanceTo(PlanePoint other) => (this - other).Length;
}

/// <summary>A projective map of the plane, (x, y, 1) to (u, v, 1) up to scale; the last element is 1.</summary>
internal sealed class Homography
{
    private readonly double[] _h;

    /// <param name="h">Row-major, the first eight elements.</param>
    public Homography(ReadOnlySpan<double> h) => _h = [.. h[..8], 1];

    /// <summary>Element by row and column.</summary>
    public double this[int row, int column] => _h[3 * row + column];

    public PlanePoint Map(PlanePoint p)
    {
        double[] h = _h;
        double scale = 1 / (h[6] * p.X + h[7] * p.Y + 1);
        return new((h[0] * p.X + h[1] * p.Y + h[2]) * scale, (h[3] * p.X + h[4] * p.Y + h[5]) * scale);
    }

    /// <summary>This map after another one.</summary>
    public Homography After(Homography first) => Scaled(Multiply(Elements(this), Elements(first)));

    public Homography Inverse()
    {
        double[] a =
        [
            _h[4] - _h[5] * _h[7], _h[2] * _h[7] - _h[1], _h[1] * _h[5] - _h[2] * _h[4],
            _h[5] * _h[6] - _h[3], _h[0] - _h[2] * _h[6], _h[2] * _h[3] - _h[0] * _h[5],
            _h[3] * _h[7] - _h[4] * _h[6], _h[1] * _h[6] - _h[0] * _h[7], _h[0] * _h[4] - _h[1] * _h[3],
        ];
        return new([.. a[..8].Select(element => element / a[8])]);
    }

    /// <summary>The map that carries points onto others in the sense of least squares; four or more, no three of four in line.</summary>
    public static Homography Fit(IReadOnlyList<PlanePoint> from, IReadOnlyList<PlanePoint> onto)
    {
        // Hartley's normalisation keeps the linear system well conditioned (PAMI 19 (1997) 580–593).
        (PlanePoint fromCentre, double fromScale) = Spread(from);
        (PlanePoint ontoCentre, double ontoScale) = Spread(onto);
        double[,] normal = new double[8, 8];
        double[] right = new double[8];
        for (int i = 0; i < from.Count; i++)
        {
            PlanePoint p = (from[i] - fromCentre) * (1 / fromScale);
            PlanePoint q = (onto[i] - ontoCentre) * (1 / ontoScale);
            AddRow([p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y], q.X);
            AddRow([0, 0, 0, p.X, p.Y, 1, -q.Y * p.X, -q.Y * p.Y], q.Y);
        }

        double[] h = LeastSquares.SolveSymmetric(normal, right);
        return Compose(h, fromCentre, fromScale, ontoCentre, ontoScale);

        void AddRow(ReadOnlySpan<double> row, double target)
        {
            for (int i = 0; i < 8; i++)
            {
                right[i] += row[i] * target;
                for (int j = 0; j < 8; j++) normal[i, j] += row[i] * row[j];
            }
        }
    }

    private static (PlanePoint Centre, double Scale) Spread(IReadOnlyList<PlanePoint> points)
    {
        PlanePoint centre = new(points.Average(p => p.X), points.Average(p => p.Y));
        return (centre, points.Average(p => p.DistanceTo(centre)) / Math.Sqrt(2));
    }

    private static Homography Compose(double[] h, PlanePoint fromCentre, double fromScale, PlanePoint ontoCentre, double ontoScale)
    {
        double[,] n = { { h[0], h[1], h[2] }, { h[3], h[4], h[5] }, { h[6], h[7], 1 } };
        double[,] from = { { 1 / fromScale, 0, -fromCentre.X / fromScale }, { 0, 1 / fromScale, -fromCentre.Y / fromScale }, { 0, 0, 1 } };
        double[,] onto = { { ontoScale, 0, ontoCentre.X }, { 0, ontoScale, ontoCentre.Y }, { 0, 0, 1 } };
        return Scaled(Multiply(onto, Multiply(n, from)));
    }

    private static Homography Scaled(double[,] all) => new([.. Enumerable.Range(0, 8).Select(i => all[i / 3, i % 3] / all[2, 2])]);

    private static double[,] Elements(Homography h) =>
        new[,] { { h[0, 0], h[0, 1], h[0, 2] }, { h[1, 0], h[1, 1], h[1, 2] }, { h[2, 0], h[2, 1], h[2, 2] } };

    private static double[,] Multiply(double[,] a, double[,] b)
    {
        double[,] product = new double[3, 3];
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++)
                product[i, j] = a[i, 0] * b[0, j] + a[i, 1] * b[1, j] + a[i, 2] * b[2, j];
        return product;
    }
}

/// <summary>
/// Radial lens distortion about the picture's centre: distorted = centre + (ideal − centre) · (1 + k1 r²), r in half
/// diagonals.
/// </summary>
/// <param name="Centre">Centre of the picture, px.</param>
/// <param name="HalfDiagonalPx">Distance from the centre to a corner, px.</param>
/// <param name="K1">Coefficient; negative is barrel distortion.</param>
internal sealed record RadialDistortion(PlanePoint Centre, double HalfDiagonalPx, double K1)
{
    /// <summary>Where the lens puts an ideal (pinhole) image point.</summary>
    public PlanePoint Distort(PlanePoint ideal)
    {
        PlanePoint fromCentre = ideal - Centre;
        double rSquared = (fromCentre.X * fromCentre.X + fromCentre.Y * fromCentre.Y) / (HalfDiagonalPx * HalfDiagonalPx);
        return Centre + fromCentre * (1 + K1 * rSquared);
    }

    /// <summary>The ideal image point of a photo's point; inverse of <see cref="Distort"/> by Newton's method on the radius.</summary>
    public PlanePoint Undistort(PlanePoint photo)
    {
        PlanePoint fromCentre = photo - Centre;
        double distorted = fromCentre.Length / HalfDiagonalPx;
        if (distorted == 0) return photo;
        double r = distorted;
        for (int i = 0; i < 12; i++)
            r -= (r * (1 + K1 * r * r) - distorted) / (1 + 3 * K1 * r * r);
        return Centre + fromCentre * (r / distorted);
    }
}
