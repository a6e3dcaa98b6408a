namespace CardScan.Scoring.Engraving;

/// <summary>Range of one shape parameter, and what is known of it before any cell is measured.</summary>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
internal sealed record ShapeRange(double Lower, double Upper)
{
    /// <summary>About what it is on materials in general; <see cref="Spread"/> is how far they differ from it.</summary>
    public double Usual { get; init; }

    /// <summary>Counts as the standard error of <see cref="Usual"/>; infinite where nothing is known.</summary>
    public double Spread { get; init; } = double.PositiveInfinity;

    public bool IsKnown => double.IsFinite(Spread);
}

/// <summary>A figure of a fitted curve that has a meaning of its own, as it stands in the reading.</summary>
/// <param name="Name">Its name in <c>model.parameters</c>.</param>
/// <param name="Of">Its value from the shape parameters, the curve's amplitude and the highest effective dose, J/mm².</param>
internal sealed record CurveFigure(string Name, Func<double[], double, double, double> Of);

/// <summary>A candidate curve: mark strength against dose, up to a factor.</summary>
/// <remarks>
/// Dose is counted in parts of the highest effective dose of the card, so that a shape has no unit; what makes dose of
/// energy, speed and focus is common to all candidates (<see cref="DoseLaw"/>).
/// </remarks>
internal interface IDoseCurve
{
    /// <summary>Name of the model in the reading.</summary>
    public string Name { get; }

    /// <summary>The shape parameters. Where the curve heads for a plateau, the first one says how near it the card comes.</summary>
    public IReadOnlyList<ShapeRange> Shape { get; }

    /// <summary>Shapes to start a fit from.</summary>
    public IReadOnlyList<double[]> Starts { get; }

    /// <summary>Figures to be reported.</summary>
    public IReadOnlyList<CurveFigure> Figures { get; }

    /// <summary>Strength over the curve's amplitude, 0 or more; 1 at the highest dose for a curve that only rises.</summary>
    /// <param name="shape">Shape parameters.</param>
    /// <param name="lnParts">ln of parts of the highest dose, −∞ for none; replaced by the values.</param>
    public void Evaluate(ReadOnlySpan<double> shape, Span<double> lnParts);

    /// <summary>Part of the highest dose, 0 to 1, at which the mark is strongest inside the card.</summary>
    public double Peak(ReadOnlySpan<double> shape);

    /// <summary>
    /// Share of its plateau that the curve reaches at the highest dose, 0 to 1; 1 for a curve that has its peak inside the card.
    /// </summary>
    public double PlateauShare(double firstShape);

    /// <summary>The first shape parameter of a curve that reaches a share of its plateau; null where no plateau is headed for.</summary>
    public double? FirstShapeReaching(double plateauShare);
}

/// <summary>What all curves can do.</summary>
internal static class DoseCurves
{
    /// <summary>Strength over the curve's amplitude at a part of the highest dose.</summary>
    public static double Value(this IDoseCurve curve, ReadOnlySpan<double> shape, double part) => curve.ValueAtLn(shape, Math.Log(part));

    /// <summary>The same at the ln of a part.</summary>
    public static double ValueAtLn(this IDoseCurve curve, ReadOnlySpan<double> shape, double lnPart)
    {
        Span<double> one = [lnPart];
        curve.Evaluate(shape, one);
        return one[0];
    }

    /// <summary>Shape parameters of which something is known beforehand.</summary>
    public static int KnownCount(this IDoseCurve curve) => curve.Shape.Count(range => range.IsKnown);
}
