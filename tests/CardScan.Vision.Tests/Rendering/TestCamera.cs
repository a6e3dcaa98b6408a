namespace CardScan.Vision.Tests.Rendering;

/// <summary>A pinhole with one radial distortion, written apart from the code under test.</summary>
internal sealed record TestCamera
{
    /// <summary>No photo shows its card quite squarely: one that does is taken for a drawing.</summary>
    private const double UsualRollDeg = 0.3;

    private readonly (double Sin, double Cos) _tilt = (0, 1), _roll = Math.SinCos(UsualRollDeg * Math.PI / 180);

    public int WidthPx { get; init; } = 1600;

    public int HeightPx { get; init; } = 1200;

    /// <summary>Lens to the aimed point, mm.</summary>
    public double DistanceMm { get; init; } = 150;

    /// <summary>Point of the card that the lens is aimed at, mm.</summary>
    public (double X, double Y) AimMm { get; init; } = (60, 50);

    /// <summary>Turn about the horizontal axis of the picture, degrees.</summary>
    public double TiltDeg
    {
        get;
        init => (field, _tilt) = (value, Math.SinCos(value * Math.PI / 180));
    }

    /// <summary>Turn of the card in the picture, degrees; 180 is upside down.</summary>
    public double RollDeg
    {
        get;
        init => (field, _roll) = (value, Math.SinCos(value * Math.PI / 180));
    } = UsualRollDeg;

    /// <summary>Radial distortion at half the diagonal.</summary>
    public double K1 { get; init; }

    /// <summary>Focal length of the lens that would show as much on a 36 mm × 24 mm frame, mm.</summary>
    public double FocalLength35Mm { get; init; } = 26;

    /// <summary>How far a point of the card stands off the plane towards the lens, mm; null for a flat card.</summary>
    /// <remarks>
    /// Points keep the x and y that they have on the flat card: a bow of 1 mm shortens 120 mm by 0.02 mm, which is left out.
    /// </remarks>
    public Func<double, double, double>? HeightMm { get; init; }

    /// <summary>Focal length (the frame's diagonal is 43.2666 mm), px.</summary>
    public double FocalPx => FocalLength35Mm / 43.2666 * 2 * HalfDiagonalPx;

    private double HalfDiagonalPx => Math.Sqrt((double)WidthPx * WidthPx + (double)HeightPx * HeightPx) / 2;

    /// <summary>Pixel of a point of the card.</summary>
    public (double X, double Y) ToPhoto(double xMm, double yMm)
    {
        (xMm, yMm) = OntoPlane(xMm, yMm);
        double dx = xMm - AimMm.X, dy = yMm - AimMm.Y;
        double across = _roll.Cos * dx - _roll.Sin * dy;
        double down = _roll.Sin * dx + _roll.Cos * dy;
        double depth = DistanceMm + _tilt.Sin * down;
        double u = FocalPx * across / depth, v = FocalPx * _tilt.Cos * down / depth;
        double stretch = 1 + K1 * (u * u + v * v) / (HalfDiagonalPx * HalfDiagonalPx);
        return ((WidthPx - 1) / 2.0 + u * stretch, (HeightPx - 1) / 2.0 + v * stretch);
    }

    /// <summary>Point of the card that a pixel shows.</summary>
    public (double X, double Y) ToCard(double xPx, double yPx)
    {
        double du = xPx - (WidthPx - 1) / 2.0, dv = yPx - (HeightPx - 1) / 2.0;
        double u = du, v = dv;
        for (int i = 0; i < 30 && K1 != 0; i++)
        {
            double stretch = 1 + K1 * (u * u + v * v) / (HalfDiagonalPx * HalfDiagonalPx);
            (double U, double V) next = (du / stretch, dv / stretch);
            bool isFound = Math.Abs(next.U - u) + Math.Abs(next.V - v) < 1e-9;
            (u, v) = next;
            if (isFound) break;
        }

        double down = v * DistanceMm / (FocalPx * _tilt.Cos - v * _tilt.Sin);
        double across = u * (DistanceMm + _tilt.Sin * down) / FocalPx;
        return FromPlane(AimMm.X + _roll.Cos * across + _roll.Sin * down, AimMm.Y - _roll.Sin * across + _roll.Cos * down);
    }

    /// <summary>The lens, seen from the card: millimetres of the card, and its height over it.</summary>
    public (double X, double Y, double Z) LensMm
    {
        get
        {
            double down = -DistanceMm * _tilt.Sin;
            return (AimMm.X + _roll.Sin * down, AimMm.Y + _roll.Cos * down, DistanceMm * _tilt.Cos);
        }
    }

    /// <summary>Pixels per millimetre at the aimed point, across the tilt.</summary>
    public double PxPerMm => FocalPx / DistanceMm;

    /// <summary>Where the ray from the lens through a point of the bowed card meets the plane, mm.</summary>
    private (double X, double Y) OntoPlane(double xMm, double yMm)
    {
        if (HeightMm is null) return (xMm, yMm);
        (double lensX, double lensY, double lensZ) = LensMm;
        double reach = lensZ / (lensZ - HeightMm(xMm, yMm));
        return (lensX + (xMm - lensX) * reach, lensY + (yMm - lensY) * reach);
    }

    /// <summary>Where the same ray meets the bowed card; the height changes slowly, so that a few steps find it.</summary>
    private (double X, double Y) FromPlane(double xMm, double yMm)
    {
        if (HeightMm is null) return (xMm, yMm);
        (double lensX, double lensY, double lensZ) = LensMm;
        (double x, double y) = (xMm, yMm);
        for (int i = 0; i < 5; i++)
        {
            double share = HeightMm(x, y) / lensZ;
            (x, y) = (xMm + (lensX - xMm) * share, yMm + (lensY - yMm) * share);
        }

        return (x, y);
    }
}
