using MathNet.Numerics;

namespace CardScan.Scoring.Engraving;

/// <summary>Strength = lower + (upper − lower) / (1 + (E / E½)^−b): an S in ln dose, with a slow approach to its plateau.</summary>
/// <remarks>
/// Written by K = (E_max / E½)^b, the odds K / (1 + K) of the rise done at the highest dose, b, and the lower asymptote as
/// a share of the upper one. The dose–response curve of bioassay: D. J. Finney, Statistical Method in Biological Assay,
/// 3rd ed., 1978 (from memory).
/// </remarks>
internal sealed class FourParameterLogistic : IDoseCurve
{
    private const int LnOdds = 0, LnSlope = 1, Lower = 2;

    public string Name => "four-parameter-logistic";

    public IReadOnlyList<ShapeRange> Shape { get; } =
    [
        new(Math.Log(0.02), Math.Log(1e5)),
        new(Math.Log(0.5), Math.Log(8)) { Usual = Math.Log(3), Spread = 0.8 },
        new(-0.3, 0.3) { Usual = 0, Spread = 0.2 },
    ];

    public IReadOnlyList<double[]> Starts { get; } =
    [
        .. from odds in new[] { 1.0, 6, 30, 200 }
           from slope in new[] { 1.2, 2.5 }
           select new[] { Math.Log(odds), Math.Log(slope), 0.005 },
    ];

    public IReadOnlyList<CurveFigure> Figures { get; } =
    [
        new("plateau", (p, amplitude, _) => amplitude / (p[Lower] + (1 - p[Lower]) * SpecialFunctions.Logistic(p[LnOdds]))),
        new("lowerShare", (p, _, _) => p[Lower]),
        new("halfDose", (p, _, highest) => highest * Math.Exp(-p[LnOdds] * Math.Exp(-p[LnSlope]))),
        new("slope", (p, _, _) => Math.Exp(p[LnSlope])),
    ];

    public void Evaluate(ReadOnlySpan<double> shape, Span<double> lnParts)
    {
        double slope = Math.Exp(shape[LnSlope]), lower = shape[Lower];
        double whole = 1 / (lower + (1 - lower) * SpecialFunctions.Logistic(shape[LnOdds]));
        for (int i = 0; i < lnParts.Length; i++)
            lnParts[i] = (lower + (1 - lower) * SpecialFunctions.Logistic(shape[LnOdds] + slope * lnParts[i])) * whole;
    }

    public double Peak(ReadOnlySpan<double> shape) => 1;

    public double PlateauShare(double firstShape) => SpecialFunctions.Logistic(firstShape);

    public double? FirstShapeReaching(double plateauShare) => Math.Log(plateauShare / (1 - plateauShare));
}
