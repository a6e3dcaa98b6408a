namespace CardScan.Vision;

/// <summary>What can be seen through a kerf from a given place.</summary>
/// <remarks>
/// A kerf of width w at the narrow far face and f ≥ w at the burned face, in material of thickness t, seen at the angle θ
/// across it: the far opening appears shifted by s = t·tan θ, and light passes where it overlaps the near one:
/// W = min(w, (w + f)/2 − |s|), never below zero. So light is seen up to tan θ = (w + f)/(2t). See docs/method, "Sides".
/// </remarks>
internal static class KerfGeometry
{
    /// <summary>Width of the light seen through a kerf, mm.</summary>
    /// <param name="throughMm">Width at the far face, mm.</param>
    /// <param name="faceMm">Width at the burned face, mm; at least <paramref name="throughMm"/>.</param>
    /// <param name="shiftMm">Thickness times the tangent of the viewing angle across the kerf, mm; either sign.</param>
    public static double VisibleWidth(double throughMm, double faceMm, double shiftMm) =>
        Math.Max(0, Math.Min(throughMm, (throughMm + faceMm) / 2 - Math.Abs(shiftMm)));

    /// <summary>Width at the far face of a kerf whose light is seen, mm; inverse of <see cref="VisibleWidth"/>.</summary>
    /// <param name="visibleMm">Width of the light, mm; greater than zero.</param>
    /// <param name="flare">Width at the burned face over width at the far face, 1 or more.</param>
    /// <param name="shiftMm">As above, mm.</param>
    public static double ThroughWidth(double visibleMm, double flare, double shiftMm) =>
        Math.Max(visibleMm, 2 * (visibleMm + Math.Abs(shiftMm)) / (1 + flare));
}
