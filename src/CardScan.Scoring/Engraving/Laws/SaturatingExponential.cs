namespace CardScan.Scoring.Engraving;

/// <summary>Strength = plateau · (1 − exp(−((E − E₀)₊ / Eₛ)^g)): marking begins at a threshold and saturates.</summary>
/// <remarks>
/// Written by what a card shows well: the strongest mark A inside the card, and the steepness q = ((E_max − E₀) / Eₛ)^g,
/// so that strength = A · (1 − exp(−q · u^g)) / (1 − exp(−q)) with u = (E − E₀)₊ / (E_max − E₀). 1 − exp(−q) is the share
/// of the plateau that the card reaches: a card nowhere near its plateau is the harmless limit q → 0 (a power law) instead
/// of a plateau that runs away. Derivation: docs/method/engrave-scoring.md, "Model".
/// </remarks>
internal sealed class SaturatingExponential : IDoseCurve
{
    private const int LnSteepness = 0, LnShape = 1, Threshold = 2;

    public string Name => "saturating-exponential";

    public IReadOnlyList<ShapeRange> Shape { get; } =
    [
        new(Math.Log(0.02), Math.Log(500)),
        new(Math.Log(0.5), Math.Log(2.5)) { Usual = Math.Log(1.3), Spread = 0.4 },
        new(0, 0.9) { Usual = 0, Spread = 0.1 },
    ];

    // The threshold starts off its bound, where it could not tell which way to go.
    public IReadOnlyList<double[]> Starts { get; } =
    [
        .. from steepness in new[] { 0.7, 2.5, 8, 25 }
           from shape in new[] { 1.0, 2 }
           select new[] { Math.Log(steepness), Math.Log(shape), 0.005 },
    ];

    public IReadOnlyList<CurveFigure> Figures { get; } =
    [
        new("plateau", (p, amplitude, _) => amplitude / (1 - Math.Exp(-Math.Exp(p[LnSteepness])))),
        new("thresholdDose", (p, _, highest) => p[Threshold] * highest),
        new("scaleDose", (p, _, highest) => (1 - p[Threshold]) * highest * Math.Exp(-p[LnSteepness] * Math.Exp(-p[LnShape]))),
        new("shape", (p, _, _) => Math.Exp(p[LnShape])),
    ];

    public void Evaluate(ReadOnlySpan<double> shape, Span<double> lnParts)
    {
        double steepness = Math.Exp(shape[LnSteepness]), power = Math.Exp(shape[LnShape]), threshold = shape[Threshold];
        double scale = 1 / (1 - threshold), whole = 1 / (1 - Math.Exp(-steepness));
        for (int i = 0; i < lnParts.Length; i++)
        {
            double above = (Math.Exp(lnParts[i]) - threshold) * scale;
            lnParts[i] = above <= 0 ? 0 : (1 - Math.Exp(-steepness * Math.Pow(above, power))) * whole;
        }
    }

    public double Peak(ReadOnlySpan<double> shape) => 1;

    public double PlateauShare(double firstShape) => 1 - Math.Exp(-Math.Exp(firstShape));

    public double? FirstShapeReaching(double plateauShare) => Math.Log(-Math.Log(1 - plateauShare));
}
