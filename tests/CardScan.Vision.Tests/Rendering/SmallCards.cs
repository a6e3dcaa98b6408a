using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>Sizes of what lies on a small card, mm.</summary>
/// <param name="Marker">Side of a marker.</param>
/// <param name="Gap">Bare strip between cells.</param>
/// <param name="Cell">Side of a cell.</param>
internal sealed record SmallSizes(double Marker, double Gap, double Cell);

/// <summary>Cards of 86 mm × 54 mm with five columns and four rows, and photos of them as a phone of 12 megapixels takes them.</summary>
internal static class SmallCards
{
    public const double WidthMm = 86, HeightMm = 54;

    private const double EdgeMm = 2.5;

    private const int Columns = 5, Rows = 4;

    /// <summary>The card's plan; the grid stands in its middle, wherever the sizes leave it.</summary>
    public static PlanFile PlanOf(SmallSizes sizes, int number = TestPlans.Number)
    {
        Plan usual = TestPlans.Engraved(number).Plan;
        double pitch = sizes.Cell + sizes.Gap;
        double left = (WidthMm - Columns * pitch + sizes.Gap) / 2, top = (HeightMm - Rows * pitch + sizes.Gap) / 2;
        double right = WidthMm - EdgeMm - sizes.Marker, bottom = HeightMm - EdgeMm - sizes.Marker;
        (double X, double Y)[] corners = [(EdgeMm, EdgeMm), (right, EdgeMm), (right, bottom), (EdgeMm, bottom)];
        Plan plan = usual with
        {
            Card = new() { WidthMm = WidthMm, HeightMm = HeightMm },
            Fiducials = usual.Fiducials with
            {
                SideMm = sizes.Marker,
                Markers = [.. usual.Fiducials.Markers.Zip(corners, (marker, at) => marker with { XMm = at.X, YMm = at.Y })],
            },
            Cells = [.. Enumerable.Range(0, Columns * Rows).Select(i => new Cell
            {
                Row = i / Columns,
                Column = i % Columns,
                XMm = left + pitch * (i % Columns),
                YMm = top + pitch * (i / Columns),
                WidthMm = sizes.Cell,
                HeightMm = sizes.Cell,
            })],
        };
        return new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));
    }

    /// <summary>A phone that sees a card at so many px/mm, the card in the middle of a picture that just holds it askew.</summary>
    public static TestCamera Phone(CardSize card, double pxPerMm, double tiltDeg, double rollDeg)
    {
        TestCamera camera = new()
        {
            WidthPx = (int)(1.3 * card.WidthMm * pxPerMm),
            HeightPx = (int)(1.3 * card.HeightMm * pxPerMm),
            AimMm = (card.WidthMm / 2, card.HeightMm / 2),
            FocalLength35Mm = 40,
            TiltDeg = tiltDeg,
            RollDeg = rollDeg,
            K1 = -0.004,
        };
        return camera with { DistanceMm = camera.FocalPx / pxPerMm };
    }

    /// <summary>Char that fades beside cells: what it leaves of the light, at a point of the card, mm.</summary>
    /// <param name="plan">The card.</param>
    /// <param name="loss">Share of the light that is lost at the edge of the strongest cell.</param>
    /// <param name="fadeMm">Distance over which it falls to 1/e.</param>
    public static Func<double, double, double> Halo(Plan plan, double loss, double fadeMm) => (x, y) =>
    {
        double left = 1;
        foreach (Cell cell in plan.Cells)
        {
            double dx = Math.Max(0, Math.Max(cell.XMm - x, x - cell.XMm - cell.WidthMm));
            double dy = Math.Max(0, Math.Max(cell.YMm - y, y - cell.YMm - cell.HeightMm));
            double distance = Math.Sqrt(dx * dx + dy * dy);
            if (distance > 0 && distance < 8 * fadeMm) left *= 1 - loss * (1 + cell.Column) / Columns * Math.Exp(-distance / fadeMm);
        }

        return left;
    };
}
