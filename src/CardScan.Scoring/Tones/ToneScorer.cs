using CardScan.Model;

namespace CardScan.Scoring.Tones;

/// <summary>Finds the settings of evenly spaced tones on a scored card.</summary>
internal static class ToneScorer
{
    /// <summary>Among lines with nearly the widest span the fastest is taken.</summary>
    private const double NearlyWidest = 0.9;

    private const int DrawnPoints = 60;

    /// <summary>The reading with its tones, or with the advice that says why there are none.</summary>
    public static Reading AddTo(Reading scored, ToneRequest request)
    {
        if (scored.Plan.Process != Process.Engrave) return With(scored, ToneMessages.OfACut());
        (ToneLine Line, ToneResponse Curve)[] lines =
        [
            .. ToneLine.Of(scored, request).Select(line => (line, ToneResponse.Of(line, scored)))
                .Where(pair => pair.Item2.Samples.Length > 1),
        ];
        if (lines.Length == 0) return With(scored, ToneMessages.NoLine(scored, request));

        double widest = lines.Max(pair => ToneSteps.Span(pair.Curve));
        (ToneLine line, ToneResponse curve) = lines.Where(pair => ToneSteps.Span(pair.Curve) >= NearlyWidest * widest)
            .OrderByDescending(pair => pair.Line.Held.SpeedMmPerMin).ThenBy(pair => pair.Line.Held.PowerPercent).First();
        ToneSample[] steps = ToneSteps.Most(curve, request.Steps);
        if (steps.Length == 0) return With(scored, ToneMessages.TooNarrow(line, ToneSteps.Span(curve)));

        Reading toned = scored with { Tones = ScaleOf(line, curve, steps, request.Steps) };
        return steps.Length == request.Steps
            ? toned
            : With(toned, ToneMessages.Fewer(line, steps.Length, request.Steps, ToneSteps.Span(curve)));
    }

    private static ToneScale ScaleOf(ToneLine line, ToneResponse curve, ToneSample[] steps, int asked) => new()
    {
        Setting = line.Setting,
        StepsAsked = asked,
        Steps = [.. steps.Select(step => StepOf(line, step))],
        Curve = new(
            AxisNames.Of(line.Setting),
            [.. line.Cells.Select(cell => new CurveCell(cell.Row, cell.Column, line.ValueOf(cell)))],
            [.. Drawn(curve).OrderBy(sample => sample.LnValue).Select(sample => new CurvePoint(
                Math.Round(Math.Exp(sample.LnValue), 3), Math.Round(sample.Lightness, 2), Math.Round(sample.Low, 2),
                Math.Round(sample.High, 2)))]),
    };

    private static ToneStep StepOf(ToneLine line, ToneSample step)
    {
        bool isPower = line.Setting == Setting.PowerPercent;
        double value = Math.Exp(step.LnValue);
        return new(
            isPower ? Math.Round(value, 1) : line.Held.PowerPercent, isPower ? line.Held.SpeedMmPerMin : Math.Round(value),
            Math.Round(step.Lightness, 1), Math.Round(step.Low, 1), Math.Round(step.High, 1));
    }

    private static IEnumerable<ToneSample> Drawn(ToneResponse curve)
    {
        int stride = Math.Max(1, (curve.Samples.Length - 1) / DrawnPoints);
        return curve.Samples.Where((_, i) => i % stride == 0 || i == curve.Samples.Length - 1);
    }

    private static Reading With(Reading scored, Advice advice) => scored with { Advice = [.. scored.Advice, advice] };
}
