namespace CardScan.Scoring.Comparing;

/// <summary>A response over dose with parameters of its own.</summary>
/// <param name="parameters">The curve's parameters.</param>
/// <param name="lnDose">ln of the dose.</param>
/// <param name="lnSpeed">ln of the speed over some middle speed.</param>
internal delegate double ResponseCurve(ReadOnlySpan<double> parameters, double lnDose, double lnSpeed);

/// <summary>The saturating law over absolute dose, so that two cards can lie on one curve.</summary>
/// <remarks>
/// strength = S · (1 − exp(−q · u^g)) / (1 − exp(−q)), u = (E / E_ref − τ)₊ / (1 − τ), ln E = ln dose + (1 − β) · ln(v / v₀).
/// E_ref is one dose for both cards, S the strength there. A phone's tone curve multiplies it by κ^(strength / S − ½). See
/// docs/method/comparing.md, "Common curve".
/// </remarks>
internal static class SaturatingCurve
{
    /// <summary>S, strength at the reference dose.</summary>
    public const int Strength = 0;

    /// <summary>β: 1 where only energy counts.</summary>
    public const int SpeedExponent = 4;

    /// <summary>κ: by how much a tone curve stretches the strongest marks against the faintest; 1 where photos are alike.</summary>
    public const int Bend = 5;

    private const int LnSteepness = 1, LnShape = 2, Threshold = 3, Size = 6;

    // With fewer cells on either card the curve has fewer parameters, as in the scoring of one card.
    private const int FewestForThreshold = 9, FewestForShape = 7;

    private static readonly double[] SteepnessStarts = [0.7, 2.5, 8, 25];
    private static readonly double[] ShapeStarts = [1, 2];

    /// <summary>The strength at a dose that is given relative to the reference dose.</summary>
    public static double At(ReadOnlySpan<double> p, double lnDose, double lnSpeed)
    {
        double above = Math.Exp(lnDose + (1 - p[SpeedExponent]) * lnSpeed) - p[Threshold];
        if (above <= 0) return 0;
        double steepness = Math.Exp(p[LnSteepness]);
        double reach = Math.Pow(above / (1 - p[Threshold]), Math.Exp(p[LnShape]));
        double share = (1 - Math.Exp(-steepness * reach)) / (1 - Math.Exp(-steepness));
        return p[Strength] * share * (p[Bend] == 1 ? 1 : Math.Pow(p[Bend], share - 0.5));
    }

    /// <summary>The range of every parameter; equal limits hold it.</summary>
    /// <param name="cells">Cells of the smaller card.</param>
    /// <param name="hasSpeedExponent">True where speed and energy vary apart.</param>
    public static CurveBox BoxFor(int cells, bool hasSpeedExponent) => new(
        [0, Math.Log(0.02), cells < FewestForShape ? 0 : Math.Log(0.5), 0, hasSpeedExponent ? 0.1 : 1, 1],
        [
            1e6, Math.Log(500), cells < FewestForShape ? 0 : Math.Log(2.5), cells < FewestForThreshold ? 0 : 0.9,
            hasSpeedExponent ? 3 : 1, 1,
        ]);

    /// <summary>Where to start a fit.</summary>
    /// <param name="strongest">The strongest mark measured.</param>
    /// <param name="lnHighest">ln of the card's highest dose, relative to the reference dose.</param>
    public static IEnumerable<double[]> StartsFor(double strongest, double lnHighest)
    {
        foreach (double shape in ShapeStarts)
        {
            foreach (double steepness in SteepnessStarts)
            {
                double[] p = new double[Size];
                (p[Strength], p[LnSteepness], p[LnShape], p[SpeedExponent], p[Bend]) =
                    (1, Math.Log(steepness) - shape * lnHighest, Math.Log(shape), 1, 1);
                p[Strength] = strongest / Math.Max(At(p, lnHighest, 0), 0.05);
                yield return p;
            }
        }
    }
}

/// <summary>The range of every parameter of a curve.</summary>
/// <param name="Lower">Lower limits.</param>
/// <param name="Upper">Upper limits; a parameter with equal limits is held.</param>
internal sealed record CurveBox(double[] Lower, double[] Upper)
{
    /// <summary>True where a parameter is estimated.</summary>
    public bool IsFree(int parameter) => Lower[parameter] < Upper[parameter];

    /// <summary>Parameters that are estimated.</summary>
    public int[] Free => [.. Enumerable.Range(0, Lower.Length).Where(IsFree)];
}
