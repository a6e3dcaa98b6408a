using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How a phone turns light into codes beyond what sRGB says: its tone curve, with what is not known of it.</summary>
/// <remarks>
/// ln light = ln (sRGB's light of the code) + Σ θₙ Pₙ(2 code − 1), Pₙ the Legendre polynomials of degree 1 to 5: smooth, as such
/// curves are (M. D. Grossberg, S. K. Nayar, "Modeling the Space of Camera Response Functions", IEEE Trans. PAMI 26 (2004)
/// 1272–1282), and linear in what is sought. The top of the scale stays where it is. See docs/method/series.md.
/// </remarks>
public sealed class CameraResponse
{
    /// <summary>Number of terms.</summary>
    internal const int Terms = 5;

    /// <summary>A camera's curve is no steeper and no flatter than this, in logarithms.</summary>
    private const double LeastSlope = 0.25, MostSlope = 4;

    /// <summary>Decimals of the terms' covariance in files: errors of 0.0001 in a term are still told.</summary>
    private const int CovarianceDecimals = 9;

    private readonly double[] _terms;

    /// <summary>Square root of the terms' covariance: each column is one way in which the curve may be off.</summary>
    private readonly double[,] _root;

    /// <summary>Light of each code.</summary>
    private readonly double[] _lights;

    /// <param name="terms">θ.</param>
    /// <param name="covariance">Their covariance.</param>
    /// <param name="source">Where it is known from: a constant of <see cref="PhotoResponse"/>.</param>
    /// <param name="seriesCount">How many series of the phone it rests on, where they let expect it.</param>
    /// <param name="card">Number of the card that told it, where one did.</param>
    /// <param name="scale">What the card's darkness is known by, where one told it.</param>
    internal CameraResponse(double[] terms, double[,] covariance, string source = PhotoResponse.Series, int? seriesCount = null,
        int? card = null, PhotoScale? scale = null)
    {
        _terms = terms;
        _root = LeastSquares.SquareRoot(covariance);
        _lights = [.. Enumerable.Range(0, 256).Select(code => Undo(SrgbCurve.Linear(code / 255.0)))];
        Record = new(source, terms.Select(term => Math.Round(term, 4)).ToValueList())
        {
            Covariance = LowerTriangle(covariance),
            SeriesCount = seriesCount,
            CardNumber = card,
        };
        Record = Record with { Scale = scale is null ? null : scale with { Error = UsualError } };
    }

    /// <summary>The curve as a reading keeps it.</summary>
    public PhotoResponse Record { get; }

    /// <summary>Darkness at which a usual mark, of darkness 0.5, stands in a photo.</summary>
    public double UsualMarkSeenAs => Math.Round(
        Math.Log10(Redone(ToneBend.UsualBare) / Redone(ToneBend.UsualBare * Math.Exp(ToneBend.UsualLog))), 3);

    /// <summary>What is left of a usual mark's darkness to doubt once the curve is undone: relative standard error, capped where no
    /// curve is known.</summary>
    public double UsualError => Math.Round(Math.Min(
        PhotoQuality.UsualDarknessScaleError, ToneDoubts.By(Doubts(), [(ToneBend.UsualLog, ToneBend.UsualBare)]).Stretch), 3);

    /// <summary>True where it rises everywhere above the deepest shadows, as any camera's curve does.</summary>
    internal bool Rises => Enumerable.Range(10, 245)
        .Select(code => Math.Log(_lights[code + 1] / _lights[code])
            / Math.Log(SrgbCurve.Linear((code + 1) / 255.0) / SrgbCurve.Linear(code / 255.0)))
        .All(slope => slope is > LeastSlope and < MostSlope);

    /// <summary>Light as it was, 1 at the top of the scale; 0 stays 0.</summary>
    /// <param name="linear">Light as sRGB gives it, 0 to 1.</param>
    internal double Undo(double linear) =>
        linear <= 0 ? 0 : linear * Math.Exp(Sum(Basis(SrgbCurve.Code(linear))) - Sum(Basis(1)));

    /// <summary>Light as sRGB gives it of the code that a light was given: undoes <see cref="Undo"/>.</summary>
    /// <param name="light">Light as it was, 0 to 1.</param>
    internal LinearRgb Redo(LinearRgb light) => new(Redone(light.R), Redone(light.G), Redone(light.B));

    private double Redone(double light) => SrgbCurve.Linear(SeenCode(light));

    /// <summary>The ways in which it may be off, each as large as its standard deviation.</summary>
    internal ToneShift[] Doubts() => [.. Enumerable.Range(0, Terms).Select(column => (ToneShift)((logRatio, bare) =>
    {
        double[] mark = Basis(SeenCode(bare * Math.Exp(logRatio))), ground = Basis(SeenCode(bare));
        double moved = 0;
        for (int i = 0; i < Terms; i++) moved += (mark[i] - ground[i]) * _root[i, column];
        return moved;
    }))];

    /// <summary>The polynomials at a code, 0 to 1.</summary>
    internal static double[] Basis(double code)
    {
        double x = 2 * Math.Clamp(code, 0, 1) - 1;
        double[] values = new double[Terms];
        double before = 1, last = x;
        for (int n = 1; n <= Terms; n++)
        {
            values[n - 1] = last;
            (before, last) = (last, ((2 * n + 1) * x * last - n * before) / (n + 1));
        }

        return values;
    }

    private static ValueList<double> LowerTriangle(double[,] covariance) =>
    [
        .. Enumerable.Range(0, Terms).SelectMany(row => Enumerable.Range(0, row + 1)
            .Select(column => Math.Round(covariance[row, column], CovarianceDecimals))),
    ];

    private double Sum(double[] basis)
    {
        double sum = 0;
        for (int i = 0; i < Terms; i++) sum += _terms[i] * basis[i];
        return sum;
    }

    /// <summary>The code, 0 to 1, that a light was given.</summary>
    private double SeenCode(double light)
    {
        int above = Array.FindIndex(_lights, each => each >= light);
        return above <= 0 ? (above < 0 ? 1 : 0)
            : (above - (_lights[above] - light) / Math.Max(_lights[above] - _lights[above - 1], 1e-12)) / 255;
    }
}
