using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Engraving;

/// <summary>A curve on the cells of one card: mark strength at each of them from amplitude, speed exponent, focus and shape.</summary>
/// <remarks>
/// strength = A · curve(E / E_max), with effective dose E = areal energy · (v / v₀)^(1 − β) · efficiency of the focus. The
/// share of the strongest mark, by which goals are judged, does not contain A.
/// </remarks>
internal sealed class DoseLaw
{
    /// <summary>A: the curve's amplitude, the strongest mark of a curve that only rises.</summary>
    public const int Amplitude = 0;

    /// <summary>β: 1 where only energy counts.</summary>
    public const int SpeedExponent = 1;

    /// <summary>ln of the efficiency of the second focus offset against the first; further ones follow.</summary>
    public const int FirstFocus = 2;

    private readonly double[] _lnDose;
    private readonly double[] _lnSpeed;
    private readonly int[] _focus;
    private readonly int[] _mayBeHighest;

    public DoseLaw(EngravedCard card, IDoseCurve curve)
    {
        Curve = curve;
        _lnDose = [.. card.Burned.Select(cell => cell.LnDose)];
        _lnSpeed = [.. card.Burned.Select(cell => cell.LnSpeed)];
        _focus = [.. card.Burned.Select(cell => cell.FocusLevel)];
        // Whatever the exponent, of cells with one speed and focus only that of the most energy can be the highest.
        _mayBeHighest =
            [.. Enumerable.Range(0, _lnDose.Length).GroupBy(i => (_lnSpeed[i], _focus[i])).Select(group => group.MaxBy(i => _lnDose[i]))];
        FocusCount = Math.Max(0, card.FocusOffsetsMm.Count - 1);
        Known = [.. curve.Shape.Index().Where(shape => shape.Item.IsKnown)
            .Select(shape => (FirstShape + shape.Index, shape.Item.Usual, shape.Item.Spread))];
    }

    public IDoseCurve Curve { get; }

    /// <summary>The parameters of which something is known beforehand.</summary>
    public ValueList<(int Parameter, double Usual, double Spread)> Known { get; }

    /// <summary>Focus offsets after the first, each with an efficiency of its own.</summary>
    public int FocusCount { get; }

    /// <summary>Index of the first shape parameter.</summary>
    public int FirstShape => FirstFocus + FocusCount;

    /// <summary>Amplitude, speed exponent, focus efficiencies and shape.</summary>
    public int ParameterCount => FirstShape + Curve.Shape.Count;

    /// <summary>The curve's own parameters.</summary>
    public ReadOnlySpan<double> ShapeOf(ReadOnlySpan<double> p) => p[FirstShape..];

    /// <summary>ln of the effective dose of one cell.</summary>
    public double LnEffectiveDose(ReadOnlySpan<double> p, int cell) =>
        _lnDose[cell] + (1 - p[SpeedExponent]) * _lnSpeed[cell] + (_focus[cell] == 0 ? 0 : p[FirstFocus + _focus[cell] - 1]);

    /// <summary>ln of what a cell's power, passes and line density make together: its energy at the middle speed.</summary>
    public double LnRateOf(int cell) => _lnDose[cell] + _lnSpeed[cell];

    /// <summary>ln of its speed over the card's middle speed.</summary>
    public double LnSpeedOf(int cell) => _lnSpeed[cell];

    /// <summary>ln of the highest effective dose on the card.</summary>
    public double LnHighestDose(ReadOnlySpan<double> p)
    {
        double highest = double.NegativeInfinity;
        foreach (int cell in _mayBeHighest) highest = Math.Max(highest, LnEffectiveDose(p, cell));
        return highest;
    }

    /// <summary>Effective dose of a cell in parts of the highest, were its power and speed changed.</summary>
    public double PartAt(ReadOnlySpan<double> p, int cell, double lnPowerChange = 0, double lnSpeedChange = 0) =>
        Math.Exp(LnEffectiveDose(p, cell) + lnPowerChange - p[SpeedExponent] * lnSpeedChange - LnHighestDose(p));

    /// <summary>Strongest mark inside the card.</summary>
    public double Strongest(ReadOnlySpan<double> p) => p[Amplitude] * Curve.Value(ShapeOf(p), Curve.Peak(ShapeOf(p)));

    /// <summary>Share of the strongest mark at a part of the highest dose, 0 to 1 inside the card.</summary>
    public double ShareAt(ReadOnlySpan<double> p, double part)
    {
        ReadOnlySpan<double> shape = ShapeOf(p);
        return Curve.Value(shape, part) / Curve.Value(shape, Curve.Peak(shape));
    }

    /// <summary>Strengths of the first cells.</summary>
    public void Strengths(ReadOnlySpan<double> p, Span<double> strengths)
    {
        double highest = LnHighestDose(p);
        for (int i = 0; i < strengths.Length; i++) strengths[i] = LnEffectiveDose(p, i) - highest;
        Curve.Evaluate(ShapeOf(p), strengths);
        foreach (ref double strength in strengths) strength *= p[Amplitude];
    }

    /// <summary>Rows of <see cref="Residuals"/>: the cells, and the parameters of which something is known beforehand.</summary>
    public int RowsFor(EngravedCard card) => card.Marked.Count + Known.Count;

    /// <summary>Parameters that the cells determine: one that is known beforehand counts by what the cells add.</summary>
    public double Determined(int estimated, Matrix<double> cofactors) =>
        estimated - Known.Sum(known => cofactors[known.Parameter, known.Parameter] / (known.Spread * known.Spread));

    /// <summary>
    /// −2 ln of the evidence for the parameters that are known beforehand, by Laplace's approximation: their distance from
    /// what is usual, and the part of what was thinkable that the cells leave.
    /// </summary>
    public double CostOfKnown(ReadOnlySpan<double> p, Matrix<double> cofactors)
    {
        (int Parameter, double Usual, double Spread)[] free = [.. Known.Where(known => cofactors[known.Parameter, known.Parameter] > 0)];
        if (free.Length == 0) return 0;
        double cost = 0;
        foreach ((int parameter, double usual, double spread) in free) cost += Math.Pow((p[parameter] - usual) / spread, 2);
        Matrix<double> left = Matrix<double>.Build.Dense(free.Length, free.Length, (j, k) =>
            cofactors[free[j].Parameter, free[k].Parameter] / (free[j].Spread * free[k].Spread));
        return cost - Math.Log(left.Determinant());
    }

    /// <summary>
    /// Residuals of the card's used cells from the law, each over its deviation; then, where there is room for them, of
    /// the parameters from what is known of them beforehand.
    /// </summary>
    public ResidualFunction Residuals(EngravedCard card, double[] deviations)
    {
        double[] strengths = [.. card.Marked.Select(cell => cell.Strength)];
        return (p, residuals) =>
        {
            Strengths(p, residuals[..strengths.Length]);
            for (int i = 0; i < strengths.Length; i++) residuals[i] = (strengths[i] - residuals[i]) / deviations[i];
            for (int i = strengths.Length; i < residuals.Length; i++)
            {
                (int parameter, double usual, double spread) = Known[i - strengths.Length];
                residuals[i] = (usual - p[parameter]) / spread;
            }
        };
    }
}
