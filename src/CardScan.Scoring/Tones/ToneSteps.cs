using CardScan.Model;

namespace CardScan.Scoring.Tones;

/// <summary>Places on a curve that lie evenly apart in L*.</summary>
internal static class ToneSteps
{
    /// <summary>Ends of the curve that are left out, as a share of its lightness span: there much dose moves hardly any tone.</summary>
    private const double FlatEnd = 0.01;

    /// <summary>Standard errors of their difference that two neighbours must lie apart to be told apart.</summary>
    private const double LeastDistance = 2;

    /// <summary>Lightness span of the usable part, L*.</summary>
    public static double Span(ToneResponse curve) => (1 - 2 * FlatEnd) * Math.Abs(curve.Samples[^1].Lightness - curve.Samples[0].Lightness);

    /// <summary>As many tones as were asked for, or the most that can be told apart; empty where not even two can.</summary>
    public static ToneSample[] Most(ToneResponse curve, int asked)
    {
        for (int count = asked; count >= ToneRequest.FewestSteps; count--)
        {
            ToneSample[] steps = Even(curve, count);
            if (steps.Zip(steps.Skip(1)).All(pair => AreApart(pair.First, pair.Second))) return steps;
        }

        return [];
    }

    private static ToneSample[] Even(ToneResponse curve, int count)
    {
        (double first, double last) = (curve.Samples[0].Lightness, curve.Samples[^1].Lightness);
        return [.. Enumerable.Range(0, count).Select(i =>
            At(curve, first + (last - first) * (FlatEnd + (1 - 2 * FlatEnd) * i / (count - 1))))];
    }

    /// <summary>The first place on the curve that reaches a lightness.</summary>
    private static ToneSample At(ToneResponse curve, double lightness)
    {
        ToneSample[] samples = curve.Samples;
        int direction = Math.Sign(samples[^1].Lightness - samples[0].Lightness);
        int after = Math.Max(1, Array.FindIndex(samples, sample => (sample.Lightness - lightness) * direction >= 0));
        (ToneSample left, ToneSample right) = (samples[after - 1], samples[after]);
        double part = right.Lightness == left.Lightness ? 0 : (lightness - left.Lightness) / (right.Lightness - left.Lightness);
        return new(Mix(s => s.LnValue), Mix(s => s.Strength), lightness, Mix(s => s.Low), Mix(s => s.High));

        double Mix(Func<ToneSample, double> of) => of(left) + part * (of(right) - of(left));
    }

    private static bool AreApart(ToneSample a, ToneSample b)
    {
        double difference = Math.Abs(a.Lightness - b.Lightness);
        return difference > 0 && difference >= LeastDistance * Math.Sqrt(Math.Pow(Error(a), 2) + Math.Pow(Error(b), 2));

        static double Error(ToneSample sample) => (sample.High - sample.Low) / 2 / NormalQuantile.TwoSided95;
    }
}
