using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Lays out a printed frame: markers in the corners, greys and scales between them, the window inside.</summary>
internal static class FrameLayout
{
    /// <summary>From the window's edge to the cells, mm: labels stand there, and the light is judged there.</summary>
    private const double MarginMm = 16;

    /// <summary>Bare paper between a marker and what stands beside it, mm.</summary>
    private const double ClearMm = 4;

    /// <summary>Depth of the strip that a scale takes, mm.</summary>
    private const double RulerMm = 4;

    /// <summary>Least paper around the sheet, mm: printers do not reach the edge.</summary>
    private const double PrinterMarginMm = 6;

    /// <summary>Densities that are asked for; the nearest grey of 8 bits is printed and its own density recorded.</summary>
    private static readonly double[] Densities = [0.1, 0.3, 0.5, 0.7, 1.0, 1.3];

    /// <summary>From the sheet's edge to the window, mm.</summary>
    internal static double RimMm(double markerSideMm) => CardLayout.EdgeMm + markerSideMm + ClearMm;

    /// <summary>From the sheet's edge to the cells, mm.</summary>
    internal static double CellRimMm(double markerSideMm) => RimMm(markerSideMm) + MarginMm;

    /// <summary>The frame of a sheet of the given size, or why it does not fit on the paper.</summary>
    internal static Outcome<FrameSheet> Of(CardSize sheet, double markerSideMm, Paper paper)
    {
        (double width, double height) = paper.SizeMm();
        if (sheet.WidthMm > width - 2 * PrinterMarginMm) (width, height) = (height, width);
        if (sheet.WidthMm > width - 2 * PrinterMarginMm || sheet.HeightMm > height - 2 * PrinterMarginMm)
        {
            return Refusal.OfInput(Codes.FrameSize, ("width", Mm(sheet.WidthMm)), ("height", Mm(sheet.HeightMm)), ("paper", $"{paper}"),
                ("paper-width", Mm(width - 2 * PrinterMarginMm)), ("paper-height", Mm(height - 2 * PrinterMarginMm)));
        }

        double rim = RimMm(markerSideMm), inner = sheet.WidthMm - 2 * rim, innerHeight = sheet.HeightMm - 2 * rim;
        return new FrameSheet
        {
            PaperWidthMm = width,
            PaperHeightMm = height,
            PaperXMm = CellContent.Rounded((width - sheet.WidthMm) / 2),
            PaperYMm = PrinterMarginMm,
            Window = new()
            {
                XMm = rim,
                YMm = rim,
                WidthMm = CellContent.Rounded(inner),
                HeightMm = CellContent.Rounded(innerHeight),
            },
            GreySteps =
            [
                .. Greys(rim, CardLayout.EdgeMm + RulerMm, inner, markerSideMm - RulerMm, Densities),
                .. Greys(rim, sheet.HeightMm - CardLayout.EdgeMm - markerSideMm, inner, markerSideMm - RulerMm, [.. Densities.Reverse()]),
            ],
            Rulers =
            [
                Scale((rim, CardLayout.EdgeMm), (rim + WholeCentimetres(inner), CardLayout.EdgeMm)),
                Scale((CardLayout.EdgeMm, rim), (CardLayout.EdgeMm, rim + WholeCentimetres(innerHeight))),
            ],
        };
    }

    private static Ruler Scale((double X, double Y) from, (double X, double Y) to) =>
        new() { FromXMm = from.X, FromYMm = from.Y, ToXMm = to.X, ToYMm = to.Y, StepMm = 1 };

    private static double WholeCentimetres(double mm) => Math.Floor(mm / 10 + 1e-9) * 10;

    private static IEnumerable<GreyStep> Greys(double x, double y, double width, double height, double[] densities)
    {
        double step = width / densities.Length;
        return densities.Select((density, i) => new GreyStep
        {
            XMm = CellContent.Rounded(x + i * step),
            YMm = CellContent.Rounded(y),
            WidthMm = CellContent.Rounded(step),
            HeightMm = height,
            Density = DensityOf(GreyOf(density)),
        });
    }

    /// <summary>The grey of 8 bits, of sRGB, whose density is nearest: Y = 10^−D.</summary>
    internal static byte GreyOf(double density) => SrgbCurve.Byte(Math.Pow(10, -density));

    internal static double DensityOf(byte grey) => Math.Round(-Math.Log10(SrgbCurve.Linear(grey / 255.0)), 4);
}
