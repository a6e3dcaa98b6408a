namespace CardScan.Vision.Tests.BackLight;

/// <summary>
/// What a lens sees through openings in a plate, by following single rays: one plane is the burned face, the other the
/// far face, walls are dark. It knows nothing of the formula that it checks.
/// </summary>
/// <param name="IsOpenInFace">True where the burned face is open, mm.</param>
/// <param name="IsOpenFar">True where the far face is, mm.</param>
/// <param name="ThicknessMm">Distance of the two, mm.</param>
internal sealed record TwoPlanes(Func<double, double, bool> IsOpenInFace, Func<double, double, bool> IsOpenFar, double ThicknessMm)
{
    /// <summary>A straight kerf along y, its middle at x = 0.</summary>
    public static TwoPlanes Kerf(double throughMm, double faceMm, double thicknessMm) =>
        new((x, _) => Math.Abs(x) < faceMm / 2, (x, _) => Math.Abs(x) < throughMm / 2, thicknessMm);

    /// <summary>Whether the ray from the lens through a point of the burned face comes out at the far one.</summary>
    public bool Passes((double X, double Y, double Z) lensMm, double x, double y)
    {
        if (!IsOpenInFace(x, y)) return false;
        (double farX, double farY) = FarPoint(lensMm, x, y);
        return IsOpenFar(farX, farY);
    }

    /// <summary>Where that ray meets the far face.</summary>
    public (double X, double Y) FarPoint((double X, double Y, double Z) lensMm, double x, double y) =>
        (x + (x - lensMm.X) * ThicknessMm / lensMm.Z, y + (y - lensMm.Y) * ThicknessMm / lensMm.Z);

    /// <summary>Width of the light across x at a place along y, by counting rays, mm.</summary>
    public double WidthSeen((double X, double Y, double Z) lensMm, double y, double reachMm, int rays)
    {
        double step = 2 * reachMm / rays;
        return step * Enumerable.Range(0, rays).Count(i => Passes(lensMm, -reachMm + (i + 0.5) * step, y));
    }
}
