using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What an unknown tone curve may do to one mark and not to the others: where the light is brighter, the same mark lies elsewhere on the curve.</summary>
/// <remarks>
/// A smooth curve that keeps black and white in their places is c + c (1 − c) (a + b (2c − 1) + …) of the code c, 0 to 1. The two
/// lowest bends are each given the size that stretches the darkness of a usual mark by its share of what photos state for all
/// cells (<see cref="PhotoQuality.UsualDarknessScaleError"/>). See docs/method/photo-check.md, "Tone curves".
/// </remarks>
internal sealed class ToneBend
{
    /// <summary>A usual mark (darkness 0.5) and its bare material, linear luminance.</summary>
    private const double UsualBare = 0.45, UsualMark = 0.142;

    /// <summary>Lift of the middle, and an S about it.</summary>
    private static readonly ToneBend[] Lowest = [Sized(_ => 1), Sized(code => 2 * code - 1)];

    private readonly Func<double, double> _shape;
    private readonly double _size;

    private ToneBend(Func<double, double> shape, double size) => (_shape, _size) = (shape, size);

    /// <summary>Standard errors of marks' log ratios, natural log.</summary>
    /// <param name="marks">The marks against their bare material (natural log), and the luminance of that, 0 to 1.</param>
    public static double[] ErrorsOf((double LogRatio, double Bare)[] marks)
    {
        double usualBare = Robust.Median(marks.Select(mark => mark.Bare));
        return [.. marks.Select(mark => Math.Sqrt(Lowest.Sum(bend => Math.Pow(bend.Moved(mark.LogRatio, mark.Bare) - bend.Moved(mark.LogRatio, usualBare), 2))))];
    }

    private static ToneBend Sized(Func<double, double> shape)
    {
        const double small = 0.01;
        double logRatio = Math.Log(UsualMark / UsualBare), stretch = Math.Abs(new ToneBend(shape, small).Moved(logRatio, UsualBare) / logRatio);
        return new(shape, small * PhotoQuality.UsualDarknessScaleError / Math.Sqrt(2) / stretch);
    }

    /// <summary>How far the curve moves a log ratio.</summary>
    private double Moved(double logRatio, double bare) => Lift(bare * Math.Exp(logRatio)) - Lift(bare);

    private double Lift(double luminance)
    {
        double linear = Math.Clamp(luminance, 1e-4, 1), code = Picture.Encode(linear);
        return Math.Log(Picture.Decode(code + _size * code * (1 - code) * _shape(code)) / linear);
    }
}
