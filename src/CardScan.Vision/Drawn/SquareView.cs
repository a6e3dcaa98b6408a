using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How squarely a picture shows its card: what was drawn lies along the picture's rows, at one scale all over.</summary>
internal static class SquareView
{
    /// <summary>
    /// Distance of the card's corners from where the nearest view without turn, tilt and distortion would put them, RMS,
    /// mm.
    /// </summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="size">Its size.</param>
    public static double MissMm(CardSurface surface, CardSize size)
    {
        PlanePoint[] card = [new(0, 0), new(size.WidthMm, 0), new(size.WidthMm, size.HeightMm), new(0, size.HeightMm)];
        PlanePoint half = new(size.WidthMm / 2, size.HeightMm / 2);
        PlanePoint[] seen = [.. card.Select(surface.ToPhoto)];
        PlanePoint middle = new(seen.Average(point => point.X), seen.Average(point => point.Y));

        // Turned by quarters, as screens and photos are; of the four the nearest counts.
        return Enumerable.Range(0, 4).Min(quarters => MissMm([.. card.Select(corner => Turned(corner - half, quarters))],
            [.. seen.Select(point => point - middle)]));
    }

    private static double MissMm(PlanePoint[] planned, PlanePoint[] seen)
    {
        double pxPerMm = planned.Zip(seen, Dot).Sum() / planned.Sum(point => Dot(point, point));
        if (pxPerMm <= 0) return double.PositiveInfinity;
        return Math.Sqrt(planned.Zip(seen, (plan, found) => Math.Pow((plan * pxPerMm).DistanceTo(found), 2)).Average()) / pxPerMm;
    }

    private static PlanePoint Turned(PlanePoint point, int quarters) => quarters switch
    {
        0 => point,
        1 => new(-point.Y, point.X),
        2 => new(-point.X, -point.Y),
        _ => new(point.Y, -point.X),
    };

    private static double Dot(PlanePoint a, PlanePoint b) => a.X * b.X + a.Y * b.Y;
}
