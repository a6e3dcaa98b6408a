namespace CardScan.Vision.Tests.Rendering;

/// <summary>A pinhole with one radial distortion, written apart from the code under test.</summary>
internal sealed record TestCamera
{
    public int WidthPx { get; init; } = 1600;

    public int HeightPx { get; init; } = 1200;

    /// <summary>Lens to the aimed point, mm.</summary>
    public double DistanceMm { get; init; } = 150;

    /// <summary>Point of the card that the lens is aimed at, mm.</summary>
    public (double X, double Y) AimMm { get; init; } = (60, 50);

    /// <summary>Turn about the horizontal axis of the picture, degrees.</summary>
    public double TiltDeg { get; init; }

    /// <summary>Turn of the card in the picture, degrees; 180 is upside down.</summary>
    public double RollDeg { get; init; }

    /// <summary>Radial distortion at half the diagonal.</summary>
    public double K1 { get; init; }

    /// <summary>Focal length of the lens that would show as much on a 36 mm × 24 mm frame, mm.</summary>
    public double FocalLength35Mm { get; init; } = 26;

    /// <summary>Focal length (the frame's diagonal is 43.2666 mm), px.</summary>
    public double FocalPx => FocalLength35Mm / 43.2666 * 2 * HalfDiagonalPx;

    private double HalfDiagonalPx => Math.Sqrt((double)WidthPx * WidthPx + (double)HeightPx * HeightPx) / 2;

    /// <summary>Pixel of a point of the card.</summary>
    public (double X, double Y) ToPhoto(double xMm, double yMm)
    {
        double roll = RollDeg * Math.PI / 180, tilt = TiltDeg * Math.PI / 180;
        double dx = xMm - AimMm.X, dy = yMm - AimMm.Y;
        double across = Math.Cos(roll) * dx - Math.Sin(roll) * dy;
        double down = Math.Sin(roll) * dx + Math.Cos(roll) * dy;
        double depth = DistanceMm + Math.Sin(tilt) * down;
        double u = FocalPx * across / depth, v = FocalPx * Math.Cos(tilt) * down / depth;
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
            (u, v) = (du / stretch, dv / stretch);
        }

        double roll = RollDeg * Math.PI / 180, tilt = TiltDeg * Math.PI / 180;
        double down = v * DistanceMm / (FocalPx * Math.Cos(tilt) - v * Math.Sin(tilt));
        double across = u * (DistanceMm + Math.Sin(tilt) * down) / FocalPx;
        return (AimMm.X + Math.Cos(roll) * across + Math.Sin(roll) * down, AimMm.Y - Math.Sin(roll) * across + Math.Cos(roll) * down);
    }

    /// <summary>The lens, seen from the card: millimetres of the card, and its height over it.</summary>
    public (double X, double Y, double Z) LensMm
    {
        get
        {
            double roll = RollDeg * Math.PI / 180, tilt = TiltDeg * Math.PI / 180, down = -DistanceMm * Math.Sin(tilt);
            return (AimMm.X + Math.Sin(roll) * down, AimMm.Y + Math.Cos(roll) * down, DistanceMm * Math.Cos(tilt));
        }
    }

    /// <summary>Pixels per millimetre at the aimed point, across the tilt.</summary>
    public double PxPerMm => FocalPx / DistanceMm;
}
