using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// What an unknown tone curve may do to marks beyond stretching all alike: where the light is brighter, the same mark lies
/// elsewhere on the curve, and so does a fainter mark beside a strong one.
/// </summary>
/// <remarks>
/// A smooth curve that keeps black and white in their places is c + c (1 − c) (a + b (2c − 1) + …) of the code c, 0 to 1. The two
/// lowest bends are each given the size that stretches the darkness of a usual mark by its share of what photos state for all
/// cells (<see cref="PhotoQuality.UsualDarknessScaleError"/>). See docs/method/photo-check.md, "Tone curves".
/// </remarks>
internal sealed class ToneBend
{
    /// <summary>A usual mark (darkness 0.5) and its bare material, linear luminance.</summary>
    private const double UsualBare = 0.45, UsualMark = 0.142;

    private static readonly double UsualLog = Math.Log(UsualMark / UsualBare);

    /// <summary>Lift of the middle, and an S about it.</summary>
    private static readonly ToneBend[] Lowest = [Sized(_ => 1), Sized(code => 2 * code - 1)];

    private readonly Func<double, double> _shape;
    private readonly double _size;

    private ToneBend(Func<double, double> shape, double size) => (_shape, _size) = (shape, size);

    /// <summary>What the curve may do to marks beyond the stretch that all of them share.</summary>
    /// <param name="marks">The marks against their bare material (natural log), and the luminance of that, 0 to 1.</param>
    public static ToneDoubt[] DoubtsOf((double LogRatio, double Bare)[] marks)
    {
        double usualBare = Robust.Median(marks.Select(mark => mark.Bare));
        double[] stretches = [.. Lowest.Select(bend => bend.StretchOf([.. marks.Select(mark => mark.LogRatio)], usualBare))];
        return [.. marks.Select(mark => new ToneDoubt(
            RootOfSquares(bend => Lowest[bend].Moved(mark.LogRatio, mark.Bare) - Lowest[bend].Moved(mark.LogRatio, usualBare)),
            RootOfSquares(bend => Lowest[bend].Moved(mark.LogRatio, usualBare) - stretches[bend] * mark.LogRatio)))];

        static double RootOfSquares(Func<int, double> of) =>
            Math.Sqrt(Enumerable.Range(0, Lowest.Length).Sum(bend => Math.Pow(of(bend), 2)));
    }

    /// <summary>
    /// By which share the curve stretches all marks alike: the median over the clear ones; a usual mark's where there are
    /// too few.
    /// </summary>
    private double StretchOf(double[] logRatios, double bare)
    {
        double[] clear = [.. logRatios.Where(log => Math.Abs(log) > VeilingGlareMark.LeastLog)];
        return clear.Length < VeilingGlareMark.FewestMarks
            ? Moved(UsualLog, bare) / UsualLog
            : Robust.Median(clear.Select(log => Moved(log, bare) / log));
    }

    private static ToneBend Sized(Func<double, double> shape)
    {
        const double small = 0.01;
        double stretch = Math.Abs(new ToneBend(shape, small).Moved(UsualLog, UsualBare) / UsualLog);
        return new(shape, small * PhotoQuality.UsualDarknessScaleError / Math.Sqrt(2) / stretch);
    }

    /// <summary>How far the curve moves a log ratio.</summary>
    private double Moved(double logRatio, double bare) => Lift(bare * Math.Exp(logRatio)) - Lift(bare);

    private double Lift(double luminance)
    {
        double linear = Math.Clamp(luminance, 1e-4, 1), code = SrgbCurve.Code(linear);
        return Math.Log(SrgbCurve.Linear(code + _size * code * (1 - code) * _shape(code)) / linear);
    }
}

/// <summary>Standard errors of a mark's log ratio by an unknown tone curve, natural log.</summary>
/// <param name="ByLight">Because its light differs from that of the other marks: it alone is moved.</param>
/// <param name="ByStrength">Because its strength differs from that of the other marks: all marks as strong are moved with it.</param>
internal readonly record struct ToneDoubt(double ByLight, double ByStrength);
