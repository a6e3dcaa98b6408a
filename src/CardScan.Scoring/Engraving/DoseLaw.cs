using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving;

/// <summary>The saturating law of mark strength against dose.</summary>
/// <remarks>
/// <para>
/// Published form: strength = plateau · (1 − exp(−((E − E₀)₊ / Eₛ)^g)), E = areal energy · (v / v₀)^(1 − β). Written here
/// by what a card shows well: the strongest mark A inside the card, and the steepness q = ((E_max − E₀) / Eₛ)^g, so
/// that strength = A · (1 − exp(−q · u^g)) / (1 − exp(−q)) with u = (E − E₀)₊ / (E_max − E₀) between 0 and 1.
/// </para>
/// <para>
/// 1 − exp(−q) is the share of the plateau that the card reaches. The share of the strongest mark, by which goals are
/// judged, does not contain A at all, and a card that is nowhere near its plateau is the harmless limit q → 0 (a power
/// law) instead of a plateau that runs away. Derivation: docs/method/engrave-scoring.md, "Model".
/// </para>
/// </remarks>
internal sealed class DoseLaw
{
    /// <summary>A: strongest mark inside the card.</summary>
    public const int Strongest = 0;

    /// <summary>ln q.</summary>
    public const int LnSteepness = 1;

    /// <summary>ln g, the power's exponent; the speed's is g · β.</summary>
    public const int LnShape = 2;

    /// <summary>E₀ / E_max.</summary>
    public const int Threshold = 3;

    /// <summary>β: 1 where only energy counts.</summary>
    public const int SpeedExponent = 4;

    /// <summary>ln of the efficiency of the second focus offset against the first; further ones follow.</summary>
    public const int FirstFocus = 5;

    private readonly double[] _lnDose;
    private readonly double[] _lnSpeed;
    private readonly int[] _focus;

    public DoseLaw(EngravedCard card)
    {
        _lnDose = [.. card.Burned.Select(cell => cell.LnDose)];
        _lnSpeed = [.. card.Burned.Select(cell => cell.LnSpeed)];
        _focus = [.. card.Burned.Select(cell => cell.FocusLevel)];
        ParameterCount = FirstFocus + Math.Max(0, card.FocusOffsetsMm.Count - 1);
    }

    /// <summary>Parameters of this card's law: five, and one for each focus offset after the first.</summary>
    public int ParameterCount { get; }

    /// <summary>ln of the effective dose of one cell.</summary>
    public double LnEffectiveDose(ReadOnlySpan<double> p, int cell) =>
        _lnDose[cell] + (1 - p[SpeedExponent]) * _lnSpeed[cell] + (_focus[cell] == 0 ? 0 : p[FirstFocus + _focus[cell] - 1]);

    /// <summary>ln of the highest effective dose on the card.</summary>
    public double LnHighestDose(ReadOnlySpan<double> p)
    {
        double highest = double.NegativeInfinity;
        for (int i = 0; i < _lnDose.Length; i++) highest = Math.Max(highest, LnEffectiveDose(p, i));
        return highest;
    }

    /// <summary>Share of the strongest mark, 0 to 1, of the first cells.</summary>
    public void Shares(ReadOnlySpan<double> p, Span<double> shares)
    {
        double highest = LnHighestDose(p);
        for (int i = 0; i < shares.Length; i++) shares[i] = ShareAt(p, Math.Exp(LnEffectiveDose(p, i) - highest));
    }

    /// <summary>Residuals of the card's used cells from the law, each over its deviation.</summary>
    public ResidualFunction Residuals(EngravedCard card, double[] deviations)
    {
        double[] strengths = [.. card.Marked.Select(cell => cell.Strength)];
        return (p, residuals) =>
        {
            Shares(p, residuals);
            for (int i = 0; i < residuals.Length; i++)
                residuals[i] = (strengths[i] - p[Strongest] * residuals[i]) / deviations[i];
        };
    }

    /// <summary>Share of the strongest mark at a part of the highest dose.</summary>
    public static double ShareAt(ReadOnlySpan<double> p, double partOfHighest)
    {
        double above = partOfHighest - p[Threshold];
        if (above <= 0) return 0;
        double steepness = Math.Exp(p[LnSteepness]);
        double reach = Math.Pow(above / (1 - p[Threshold]), Math.Exp(p[LnShape]));
        return (1 - Math.Exp(-steepness * reach)) / (1 - Math.Exp(-steepness));
    }

    /// <summary>Part of the highest dose at which a share of the strongest mark is reached; the inverse of <see cref="ShareAt"/>.</summary>
    public static double PartReaching(ReadOnlySpan<double> p, double share)
    {
        double steepness = Math.Exp(p[LnSteepness]);
        double reach = -Math.Log(1 - share * (1 - Math.Exp(-steepness))) / steepness;
        return p[Threshold] + (1 - p[Threshold]) * Math.Pow(reach, Math.Exp(-p[LnShape]));
    }
}
