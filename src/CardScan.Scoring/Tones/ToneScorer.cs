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
        if (scored.Plan.Process != Process.Engrave) return Without(scored, "tones are shades of an engraving, and this card was cut: engrave a card");
        (ToneLine Line, ToneResponse Curve)[] lines = [.. ToneLine.Of(scored, request).Select(line => (line, ToneResponse.Of(line, scored))).Where(pair => pair.Item2.Samples.Length > 1)];
        if (lines.Length == 0) return Without(scored, NoLine(scored, request));

        double widest = lines.Max(pair => ToneSteps.Span(pair.Curve));
        (ToneLine line, ToneResponse curve) = lines.Where(pair => ToneSteps.Span(pair.Curve) >= NearlyWidest * widest)
            .OrderByDescending(pair => pair.Line.Held.SpeedMmPerMin).ThenBy(pair => pair.Line.Held.PowerPercent).First();
        ToneSample[] steps = ToneSteps.Most(curve, request.Steps);
        if (steps.Length == 0) return Without(scored, $"the marks {At(line)} span {ToneSteps.Span(curve):0.#} L*, less than chance moves a single one: burn a card with a wider range of doses");

        Advice[] fewer = steps.Length == request.Steps ? [] :
        [
            new("fewer-tones", $"{request.Steps} tones {At(line)} would lie {ToneSteps.Span(curve) / (request.Steps - 1):0.#} L* apart, too close to be told apart from chance: {steps.Length} can be"),
        ];
        return scored with { Tones = ScaleOf(line, curve, steps, request.Steps), Advice = [.. scored.Advice, .. fewer] };
    }

    private static ToneScale ScaleOf(ToneLine line, ToneResponse curve, ToneSample[] steps, int asked) => new()
    {
        Setting = line.Setting,
        StepsAsked = asked,
        Steps = [.. steps.Select(step => StepOf(line, step))],
        Curve = new(
            line.Setting == Setting.PowerPercent ? "power, %" : "speed, mm/min",
            [.. line.Cells.Select(cell => new CurveCell(cell.Row, cell.Column, line.ValueOf(cell)))],
            [.. Drawn(curve).OrderBy(sample => sample.LnValue).Select(sample => new CurvePoint(
                Math.Round(Math.Exp(sample.LnValue), 3), Math.Round(sample.Lightness, 2), Math.Round(sample.Low, 2), Math.Round(sample.High, 2)))]),
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

    private static string NoLine(Reading scored, ToneRequest request)
    {
        bool isByPower = request.AtPowerPercent is null;
        string what = isByPower ? "power" : "speed", where = request switch
        {
            { AtSpeedMmPerMin: { } speed } => $" at {speed:0.#} mm/min",
            { AtPowerPercent: { } power } => $" at {power:0.#} %",
            _ => "",
        };
        IEnumerable<double> burned = scored.Cells.Select(cell => isByPower ? cell.Settings.SpeedMmPerMin : cell.Settings.PowerPercent).Distinct().Order();
        return $"fewer than three usable cells differ in {what} alone{where}: name one of {string.Join(", ", burned.Select(value => $"{value:0.#}"))} {(isByPower ? "mm/min" : "%")}, or burn a card with {what} along an axis";
    }

    private static string At(ToneLine line) => line.Setting == Setting.PowerPercent ? $"at {line.Held.SpeedMmPerMin:0.#} mm/min" : $"at {line.Held.PowerPercent:0.#} %";

    private static Reading Without(Reading scored, string why) => scored with { Advice = [.. scored.Advice, new("no-tones", why)] };
}
