namespace CardScan.Scoring.Focus;

/// <summary>How line widths follow from focus offset and line energy, for one place and depth of the focus.</summary>
/// <remarks>
/// A Gaussian beam is w(z) = w₀ g with g² = 1 + ((z − z₀)/z_R)². A line of energy E has the peak fluence √(2/π) E/w, and by
/// Liu's relation the width W² = 2w² ln(F/F_th); together W² = A g² (ln E − ln g) + B g² with A = 2w₀², which is linear in A and
/// B. Sources: Liu, Opt. Lett. 7 (1982) 196; Siegman, Lasers (1986), ch. 17; docs/method/focus.md.
/// </remarks>
/// <param name="BestMm">z₀, mm.</param>
/// <param name="RayleighMm">z_R, mm.</param>
internal readonly record struct BeamShape(double BestMm, double RayleighMm)
{
    /// <summary>g².</summary>
    public double SquareAt(double offsetMm) => 1 + Math.Pow((offsetMm - BestMm) / RayleighMm, 2);

    /// <summary>The factor of A.</summary>
    public double LiuTermAt(double offsetMm, double lnEnergy)
    {
        double square = SquareAt(offsetMm);
        return square * (lnEnergy - 0.5 * Math.Log(square));
    }
}
