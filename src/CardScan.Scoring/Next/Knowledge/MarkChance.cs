namespace CardScan.Scoring.Next.Knowledge;

/// <summary>How far a cell's mark scatters about the law: the photo's error, and the material's chance.</summary>
/// <param name="DarknessError">Standard error of a darkness, in units of density.</param>
/// <param name="Share">Chance of a cell, as a share of its mark.</param>
/// <param name="IsLighter">The mark is lighter than the bare material.</param>
internal sealed record MarkChance(double DarknessError, double Share, bool IsLighter)
{
    /// <summary>Light of the darkest mark over that of the bare material: no error is smaller than there.</summary>
    private const double LeastLight = 0.05;

    /// <summary>Variance of a cell's strength.</summary>
    public double VarianceAt(double strength)
    {
        // d(10^−D) = ln 10 · 10^−D · dD
        double light = Math.Log(10) * Math.Max(IsLighter ? 1 + strength : 1 - strength, LeastLight) * DarknessError;
        return light * light + Share * Share * strength * strength;
    }
}
