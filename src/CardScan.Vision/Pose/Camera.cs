namespace CardScan.Vision;

/// <summary>Where the camera stood, seen from the card.</summary>
/// <param name="PositionMm">Centre of the lens in the card frame, mm; z is the height over the burned face.</param>
/// <param name="TiltDeg">Angle between the optical axis and the card's normal, degrees.</param>
/// <param name="FocalPx">Focal length, px.</param>
/// <param name="IsFocalKnown">False where the file did not give the focal length and it was estimated.</param>
internal sealed record Camera((double X, double Y, double Z) PositionMm, double TiltDeg, double FocalPx, bool IsFocalKnown)
{
    /// <summary>Diagonal of the 36 mm × 24 mm frame that the 35 mm equivalent refers to, mm.</summary>
    private const double FrameDiagonalMm = 43.2666;

    /// <summary>Main cameras of phones cluster here (common practice, no source); used where neither file nor view tells, mm.</summary>
    public const double UsualFocalLength35Mm = 26;

    /// <summary>Main and long lenses of phones (common practice, no source), 35 mm equivalent.</summary>
    private static readonly double[] PossibleFocalLengths35Mm = [24, 35, 50, 80];

    /// <summary>
    /// Where the lens may have stood: one place where the file gives the focal length, else one for each that phones have.
    /// </summary>
    public IReadOnlyList<(double X, double Y, double Z)> PossiblePositionsMm { get; private init; } = [PositionMm];

    /// <summary>Takes the card-to-picture homography apart.</summary>
    /// <remarks>Zhang, PAMI 22 (2000) 1330–1334: with square pixels and a known centre, K⁻¹H has orthonormal first columns.</remarks>
    public static Camera From(Homography toIdeal, PlanePoint centre, double halfDiagonalPx, double? focalLength35Mm)
    {
        if (focalLength35Mm is { } known) return With(toIdeal, centre, halfDiagonalPx, known) with { IsFocalKnown = true };
        Camera usual = With(toIdeal, centre, halfDiagonalPx, UsualFocalLength35Mm);
        return usual with
        {
            PossiblePositionsMm =
                [usual.PositionMm, .. PossibleFocalLengths35Mm.Select(length => With(toIdeal, centre, halfDiagonalPx, length).PositionMm)],
        };
    }

    private static Camera With(Homography toIdeal, PlanePoint centre, double halfDiagonalPx, double focalLength35Mm)
    {
        double focal = focalLength35Mm / FrameDiagonalMm * 2 * halfDiagonalPx;
        (Vector first, Vector second, Vector third) = Columns(toIdeal, centre, focal);
        double scale = 2 / (first.Length + second.Length);
        Vector r1 = first * scale, r2 = second * scale, t = third * scale;
        if (t.Z < 0) (r1, r2, t) = (r1 * -1, r2 * -1, t * -1);
        Vector normal = r1.Cross(r2);
        normal *= 1 / normal.Length;

        // The camera centre solves R·C + t = 0, with R's columns r1, r2, normal; the card's normal points away from the lens.
        Vector position = new(-r1.Dot(t), -r2.Dot(t), -normal.Dot(t));
        double tilt = Math.Acos(Math.Clamp(Math.Abs(normal.Z), 0, 1)) * 180 / Math.PI;
        return new((position.X, position.Y, Math.Abs(position.Z)), tilt, focal, IsFocalKnown: false);
    }

    private static (Vector, Vector, Vector) Columns(Homography h, PlanePoint centre, double focal)
    {
        return (Column(0), Column(1), Column(2));

        Vector Column(int c) => new((h[0, c] - centre.X * h[2, c]) / focal, (h[1, c] - centre.Y * h[2, c]) / focal, h[2, c]);
    }

    private readonly record struct Vector(double X, double Y, double Z)
    {
        public double Length => Math.Sqrt(Dot(this));

        public static Vector operator *(Vector v, double factor) => new(v.X * factor, v.Y * factor, v.Z * factor);

        public double Dot(Vector other) => X * other.X + Y * other.Y + Z * other.Z;

        public Vector Cross(Vector other) => new(Y * other.Z - Z * other.Y, Z * other.X - X * other.Z, X * other.Y - Y * other.X);
    }
}
