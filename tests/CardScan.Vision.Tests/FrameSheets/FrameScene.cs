using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.FrameSheets;

/// <summary>
/// A photo of a printed frame sheet with a burned piece in its window. Defaults are the perfect picture of a
/// piece that lies as planned.
/// </summary>
internal sealed record FrameScene
{
    public PlanFile Plan { get; init; } = FramePlans.Grid();

    public TestCamera Camera { get; init; } = new() { DistanceMm = 128, AimMm = (59, 59) };

    /// <summary>The grid's middle against its planned place, mm.</summary>
    public (double X, double Y) OffsetMm { get; init; }

    /// <summary>The piece turned clockwise, degrees.</summary>
    public double TurnDeg { get; init; }

    /// <summary>The piece's face above the sheet, mm.</summary>
    public double HeightMm { get; init; }

    /// <summary>Millimetres of the print a planned millimetre.</summary>
    public double PrintScale { get; init; } = 1;

    /// <summary>Linear light of bare material; the paper has 0.8.</summary>
    public double Bare { get; init; } = 0.45;

    /// <summary>True darkness of each cell.</summary>
    public Func<Cell, double> Darkness { get; init; } = cell => 0.1 + 0.25 * cell.Column + 0.1 * (3 - cell.Row);

    /// <summary>Factor of the light at a point of the sheet, mm.</summary>
    public Func<double, double, double> Light { get; init; } = (_, _) => 1;

    /// <summary>The phone's tone curve, linear light in and out.</summary>
    public Func<double, double> Tone { get; init; } = linear => linear;

    /// <summary>Standard deviation of the grain, natural log.</summary>
    public double Grain { get; init; }

    public double BlurPx { get; init; } = 0.8;

    public double Noise { get; init; } = 0.003;

    public double Exposure { get; init; } = 1;

    /// <summary>The phone's curve as good phones have it: contrast raised in the middle of the codes.</summary>
    /// <param name="strength">0 changes nothing, 1 is smoothstep.</param>
    public static Func<double, double> Contrasty(double strength) => linear =>
    {
        double code = Math.Clamp(linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055, 0, 1);
        double bent = (1 - strength) * code + strength * code * code * (3 - 2 * code);
        return bent <= 0.04045 ? bent / 12.92 : Math.Pow((bent + 0.055) / 1.055, 2.4);
    };

    /// <summary>Middle of the planned grid, mm.</summary>
    public (double X, double Y) GridMiddle
    {
        get
        {
            ValueList<Cell> cells = Plan.Plan.Cells;
            return ((cells.Min(c => c.XMm) + cells.Max(c => c.XMm + c.WidthMm)) / 2,
                (cells.Min(c => c.YMm) + cells.Max(c => c.YMm + c.HeightMm)) / 2);
        }
    }

    /// <summary>The planned point that a pixel shows of the piece; seen through the sheet's plane at the given millimetres.</summary>
    public (double X, double Y) PlannedAt(double sheetX, double sheetY)
    {
        (double lensX, double lensY, double lensZ) = Camera.LensMm;
        double nearer = (lensZ - HeightMm) / lensZ, turn = TurnDeg * Math.PI / 180;
        (double middleX, double middleY) = GridMiddle;
        double x = lensX + (sheetX - lensX) * nearer - PrintScale * middleX - OffsetMm.X;
        double y = lensY + (sheetY - lensY) * nearer - PrintScale * middleY - OffsetMm.Y;
        return (middleX + Math.Cos(turn) * x + Math.Sin(turn) * y, middleY - Math.Sin(turn) * x + Math.Cos(turn) * y);
    }

    /// <summary>True middle of a cell in the photo, px.</summary>
    public (double X, double Y) CentreOf(Cell cell)
    {
        (double lensX, double lensY, double lensZ) = Camera.LensMm;
        double farther = lensZ / (lensZ - HeightMm), turn = TurnDeg * Math.PI / 180;
        (double middleX, double middleY) = GridMiddle;
        double x = cell.XMm + cell.WidthMm / 2 - middleX, y = cell.YMm + cell.HeightMm / 2 - middleY;
        double pieceX = PrintScale * middleX + OffsetMm.X + Math.Cos(turn) * x - Math.Sin(turn) * y;
        double pieceY = PrintScale * middleY + OffsetMm.Y + Math.Sin(turn) * x + Math.Cos(turn) * y;
        return Camera.ToPhoto(lensX + (pieceX - lensX) * farther, lensY + (pieceY - lensY) * farther);
    }
}
