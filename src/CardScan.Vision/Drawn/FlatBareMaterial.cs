using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Whether bare material has one colour, to the last code: light, grain and noise see to it in a photo that it has not.</summary>
internal static class FlatBareMaterial
{
    /// <summary>Distance between places, mm: no multiple of a pixel at usual scales.</summary>
    private const double StepMm = 0.53;

    /// <summary>Distance kept from cells, markers and the card's rim, mm: there a JPEG rings.</summary>
    private const double ClearanceMm = 1;

    /// <summary>Share of the bare places whose colour is exactly the commonest, 0 to 1; labels are among the places.</summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="plan">Its plan.</param>
    public static double ShareOfOneColour(CardSurface surface, Plan plan)
    {
        Dictionary<(byte, byte, byte), int> counts = [];
        int places = 0;
        for (double y = ClearanceMm; y < plan.Card.HeightMm - ClearanceMm; y += StepMm)
        {
            for (double x = ClearanceMm; x < plan.Card.WidthMm - ClearanceMm; x += StepMm)
            {
                if (!IsBare(x, y, plan) || surface.CodesAt(new(x, y)) is not { } colour) continue;
                counts[colour] = counts.GetValueOrDefault(colour) + 1;
                places++;
            }
        }

        return places == 0 ? 0 : counts.Values.Max() / (double)places;
    }

    private static bool IsBare(double x, double y, Plan plan) =>
        !plan.Cells.Any(cell => IsNear(x, y, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm))
        && !plan.Fiducials.Markers.Any(marker => IsNear(x, y, marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm));

    private static bool IsNear(double x, double y, double left, double top, double width, double height) =>
        x > left - ClearanceMm && x < left + width + ClearanceMm && y > top - ClearanceMm && y < top + height + ClearanceMm;
}
