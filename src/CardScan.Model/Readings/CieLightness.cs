namespace CardScan.Model;

/// <summary>CIE 1976 lightness L* against a white: about even steps to the eye.</summary>
/// <remarks>
/// L* = 116 · f(Y/Yn) − 16 with f(t) = ∛t above (6/29)³, else t · 841/108 + 4/29. Source: CIE 15:2004, 8.2.1; ISO/CIE
/// 11664-4:2019.
/// </remarks>
public static class CieLightness
{
    private const double Knee = 6.0 / 29;

    /// <summary>L* of a luminance over that of the white, 0 or more: 100 is the white, more is lighter than it.</summary>
    public static double Of(double luminanceOverWhite) =>
        116 * (luminanceOverWhite > Knee * Knee * Knee
            ? Math.Cbrt(luminanceOverWhite)
            : luminanceOverWhite / (3 * Knee * Knee) + 4.0 / 29) - 16;

    /// <summary>Luminance over that of the white at some L*, the inverse of <see cref="Of"/>.</summary>
    public static double LuminanceAt(double lightness)
    {
        double f = (lightness + 16) / 116;
        return f > Knee ? f * f * f : 3 * Knee * Knee * (f - 4.0 / 29);
    }
}
