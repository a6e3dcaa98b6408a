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
    public const double UsualBare = 0.45, UsualMark = 0.142;

    /// <summary>A usual mark against its bare material, natural log.</summary>
    public static readonly double UsualLog = Math.Log(UsualMark / UsualBare);

    /// <summary>Lift of the middle, and an S about it.</summary>
    public static readonly ToneShift[] Lowest = [Sized(_ => 1).Moved, Sized(code => 2 * code - 1).Moved];

    private readonly Func<double, double> _shape;
    private readonly double _size;

    private ToneBend(Func<double, double> shape, double size) => (_shape, _size) = (shape, size);

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

/// <summary>One way in which a tone curve may be off: how far it moves a mark's log ratio.</summary>
/// <param name="logRatio">The mark against its bare material, natural log.</param>
/// <param name="bare">Luminance of that, 0 to 1.</param>
internal delegate double ToneShift(double logRatio, double bare);

/// <summary>What the ways in which a tone curve may be off do to the marks of a card.</summary>
/// <param name="Stretch">By which share they stretch or shrink all marks alike, standard error.</param>
/// <param name="Of">What they do to each mark beyond that.</param>
internal sealed record ToneDoubts(double Stretch, ToneDoubt[] Of)
{
    /// <summary>What they do.</summary>
    /// <param name="shifts">The ways; they are independent.</param>
    /// <param name="marks">The marks against their bare material (natural log), and the luminance of that, 0 to 1.</param>
    public static ToneDoubts By(ToneShift[] shifts, (double LogRatio, double Bare)[] marks)
    {
        double usualBare = Robust.Median(marks.Select(mark => mark.Bare));
        double[] stretches = [.. shifts.Select(shift => StretchBy(shift, marks, usualBare))];
        return new(RootOfSquares(i => stretches[i]), [.. marks.Select(mark => new ToneDoubt(
            RootOfSquares(i => shifts[i](mark.LogRatio, mark.Bare) - shifts[i](mark.LogRatio, usualBare)),
            RootOfSquares(i => shifts[i](mark.LogRatio, usualBare) - stretches[i] * mark.LogRatio)))]);

        double RootOfSquares(Func<int, double> of) => Math.Sqrt(Enumerable.Range(0, shifts.Length).Sum(i => Math.Pow(of(i), 2)));
    }

    /// <summary>
    /// By which share a curve stretches all marks alike: the median over the clear ones; a usual mark's where there are too few.
    /// </summary>
    private static double StretchBy(ToneShift shift, (double LogRatio, double Bare)[] marks, double bare)
    {
        double[] clear = [.. marks.Select(mark => mark.LogRatio).Where(log => Math.Abs(log) > VeilingGlareMark.LeastLog)];
        return clear.Length < VeilingGlareMark.FewestMarks
            ? shift(ToneBend.UsualLog, bare) / ToneBend.UsualLog
            : Robust.Median(clear.Select(log => shift(log, bare) / log));
    }
}

/// <summary>Standard errors of a mark's log ratio by an unknown tone curve, natural log.</summary>
/// <param name="ByLight">Because its light differs from that of the other marks: it alone is moved.</param>
/// <param name="ByStrength">Because its strength differs from that of the other marks: all marks as strong are moved with it.</param>
internal readonly record struct ToneDoubt(double ByLight, double ByStrength);
