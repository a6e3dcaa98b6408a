namespace CardScan.Vision;

/// <summary>
/// The way from light as a photo's codes give it to light as it was: a smooth curve of the logarithm, straight beyond its
/// ends.
/// </summary>
/// <remarks>
/// A natural cubic spline. Its basis, u and one function an inner knot, is that of Stone and Koo (1985), also known as
/// restricted cubic splines: beyond the outer knots every function is a straight line, so that light darker than the
/// darkest grey is carried on by a power law and not by a cubic that turns.
/// </remarks>
internal sealed class ToneCurve
{
    /// <summary>Number of coefficients.</summary>
    public const int Terms = Knots - 1;

    private const int Knots = 5;

    /// <summary>A camera's curve is no steeper and no flatter than this, in logarithms.</summary>
    private const double LeastSlope = 0.25, MostSlope = 4;

    /// <summary>The curve must rise this far beyond the greys: cells may be darker, natural log.</summary>
    private const double BeyondLog = 1;

    private readonly double _low;
    private readonly double _high;
    private readonly double[] _coefficients;
    private readonly double _constant;

    /// <param name="low">Natural log of the darkest light that the coefficients were fitted on.</param>
    /// <param name="high">Natural log of the brightest.</param>
    /// <param name="coefficients">Of the basis.</param>
    /// <param name="fixedLog">Natural log of the light that the curve leaves as it is.</param>
    public ToneCurve(double low, double high, double[] coefficients, double fixedLog)
    {
        (_low, _high, _coefficients) = (low, high, coefficients);
        _constant = fixedLog - Log(fixedLog);
    }

    /// <summary>True where it rises everywhere, as any camera's curve does.</summary>
    public bool Rises => Enumerable.Range(0, 60)
        .Select(i => _low - BeyondLog + (_high - _low + 2 * BeyondLog) * i / 59)
        .All(u => (Log(u + 0.01) - Log(u)) / 0.01 is > LeastSlope and < MostSlope);

    /// <summary>Linear light as it was; 0 stays 0.</summary>
    public double Undo(double linear) => linear <= 0 ? 0 : Math.Exp(Log(Math.Log(linear)));

    /// <summary>The same in natural logarithms.</summary>
    public double Log(double u) => _constant + Basis(u, _low, _high).Zip(_coefficients, (a, b) => a * b).Sum();

    /// <summary>The functions at a place, for knots spread evenly from the lowest to the highest.</summary>
    public static double[] Basis(double u, double low, double high)
    {
        double x = (u - low) / (high - low), step = 1.0 / (Knots - 1), beforeLast = 1 - step;
        return [u, .. Enumerable.Range(0, Knots - 2).Select(k => Function(k * step))];

        double Function(double knot) =>
            Cube(x - knot) - Cube(x - beforeLast) * (1 - knot) / step + Cube(x - 1) * (beforeLast - knot) / step;

        static double Cube(double t) => t > 0 ? t * t * t : 0;
    }
}
