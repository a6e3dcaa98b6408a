namespace CardScan.Scoring.Engraving;

/// <summary>A saturating rise of which a share is lost again about some dose: a coat burns off, char turns to ash.</summary>
/// <remarks>
/// strength ∝ (1 − exp(−q · u^g)) · (1 − L / (1 + (u / d)^−h)) with u = E / E_max: the loss is an S in ln dose, as the
/// logistic is, about d with slope h. Where L is near 1 the mark goes altogether.
/// </remarks>
internal sealed class RiseThenFall : IDoseCurve
{
    private const int LnSteepness = 0, LnShape = 1, Lost = 2, LnFallAt = 3, LnFallSlope = 4;

    /// <summary>A material loses its mark over some range of dose; a cliff between two settings is a cover or a shadow.</summary>
    private const double SteepestFall = 5;

    /// <summary>The lowest dose at which the peak is looked for, ln of its part of the highest.</summary>
    private const double LnLowest = -5;

    private const int CoarseSteps = 20, FineSteps = 18;

    public string Name => "rise-then-fall";

    public IReadOnlyList<ShapeRange> Shape { get; } =
    [
        new(Math.Log(1), Math.Log(500)),
        new(Math.Log(0.5), Math.Log(2.5)),
        new(0.02, 1),
        new(-4, 0.7),
        new(Math.Log(1), Math.Log(SteepestFall)),
    ];

    public IReadOnlyList<double[]> Starts { get; } =
    [
        .. from steepness in new[] { 4.0, 15, 60 }
           from fallAt in new[] { 0.15, 0.4, 0.8 }
           select new[] { Math.Log(steepness), Math.Log(1.3), 0.5, Math.Log(fallAt), Math.Log(3) },
    ];

    public IReadOnlyList<CurveFigure> Figures { get; } =
    [
        new("scaleDose", (p, _, highest) => highest * Math.Exp(-p[LnSteepness] * Math.Exp(-p[LnShape]))),
        new("shape", (p, _, _) => Math.Exp(p[LnShape])),
        new("lostShare", (p, _, _) => p[Lost]),
        new("fallDose", (p, _, highest) => highest * Math.Exp(p[LnFallAt])),
        new("fallSlope", (p, _, _) => Math.Exp(p[LnFallSlope])),
    ];

    public void Evaluate(ReadOnlySpan<double> shape, Span<double> lnParts)
    {
        double steepness = Math.Exp(shape[LnSteepness]), power = Math.Exp(shape[LnShape]);
        double lost = shape[Lost], fallAt = shape[LnFallAt], slope = Math.Exp(shape[LnFallSlope]);
        foreach (ref double value in lnParts)
        {
            double rise = 1 - Math.Exp(-steepness * Math.Exp(power * value));
            value = rise * (1 - lost / (1 + Math.Exp(slope * (fallAt - value))));
        }
    }

    public double Peak(ReadOnlySpan<double> shape)
    {
        Span<double> values = stackalloc double[CoarseSteps + 1];
        for (int k = 0; k <= CoarseSteps; k++) values[k] = LnLowest * (1 - (double)k / CoarseSteps);
        Evaluate(shape, values);
        int best = 0;
        for (int k = 1; k <= CoarseSteps; k++)
            if (values[k] > values[best]) best = k;
        return Math.Exp(Refined(shape, LnLowest * (1 - (best - 1.0) / CoarseSteps), Math.Min(0, LnLowest * (1 - (best + 1.0) / CoarseSteps))));
    }

    public double PlateauShare(double firstShape) => 1;

    public double? FirstShapeReaching(double plateauShare) => null;

    /// <summary>Golden section: its error, a part in 10⁴ of the dose, moves the value at a peak by nothing.</summary>
    private double Refined(ReadOnlySpan<double> shape, double low, double high)
    {
        const double golden = 0.6180339887498949;
        Span<double> inner = stackalloc double[2];
        for (int step = 0; step < FineSteps; step++)
        {
            double left = high - golden * (high - low), right = low + golden * (high - low);
            (inner[0], inner[1]) = (left, right);
            Evaluate(shape, inner);
            if (inner[0] < inner[1]) low = left;
            else high = right;
        }

        return high > -1e-3 ? 0 : (low + high) / 2;
    }
}
