using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics.Interpolation;

namespace CardScan.Scoring.Tones;

/// <summary>Mark strength along a line of cells, finely sampled from the weakest setting to that of the strongest mark.</summary>
/// <remarks>
/// Read from the card's fitted curve, which all cells carry; where the card has none, an order-preserving fit through the
/// line's own cells with monotone cubic pieces between them (F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17
/// (1980) 238–246).
/// </remarks>
internal sealed record ToneResponse(ToneSample[] Samples)
{
    private const int SampleCount = 240;

    public static ToneResponse Of(ToneLine line, Reading reading)
    {
        bool isLighter = line.Cells.Sum(cell => cell.Darkness!.Value) < 0;
        IEnumerable<ToneSample> samples = OnFittedCurve(line, reading, isLighter) ?? ThroughCells(line, reading, isLighter);
        ToneSample[] all = [.. samples];
        int strongest = Array.IndexOf(all, all.MaxBy(sample => sample.Strength));
        // Where the mark weakens past its strongest, only the way up gives tones.
        return new(all[..(strongest + 1)]);
    }

    /// <summary>
    /// Every cell's place on the fitted curve is known; between two cells its logarithm runs evenly with that of the setting.
    /// </summary>
    private static IEnumerable<ToneSample>? OnFittedCurve(ToneLine line, Reading reading, bool isLighter)
    {
        if (reading.Model?.Curve is not { } curve || curve.Points.Count < 5) return null;
        Dictionary<(int, int), double> places = curve.Cells.Where(cell => cell.X > 0)
            .ToDictionary(cell => (cell.Row, cell.Column), cell => cell.X);
        CellReading[] cells = [.. line.Cells.Where(cell => places.ContainsKey((cell.Row, cell.Column)))];
        if (cells.Length < 2) return null;

        double[] lnValues = [.. cells.Select(cell => Math.Log(line.ValueOf(cell)))];
        double[] lnPlaces = [.. cells.Select(cell => Math.Log(places[(cell.Row, cell.Column)]))];
        CurvePoint[] points = [.. curve.Points.DistinctBy(point => point.X).OrderBy(point => point.X)];
        Func<double, double> y = Smooth(points, point => point.Y), low = Smooth(points, point => point.Low),
            high = Smooth(points, point => point.High);
        Func<double, double> chance = ChanceOf(reading.Model);
        return Even(lnValues[0], lnValues[^1]).Select(lnValue =>
        {
            double x = Math.Exp(Between(lnValues, lnPlaces, lnValue));
            double band = Math.Max(0, high(x) - low(x)) / 2 / NormalQuantile.TwoSided95;
            return Sample(lnValue, y(x), Math.Sqrt(band * band + Math.Pow(chance(y(x)), 2)), isLighter);
        });
    }

    private static IEnumerable<ToneSample> ThroughCells(ToneLine line, Reading reading, bool isLighter)
    {
        double[] lnValues = [.. line.Cells.Select(cell => Math.Log(line.ValueOf(cell)))];
        double[] strengths = [.. line.Cells.Select(cell => (isLighter ? -1 : 1) * (1 - Math.Pow(10, -cell.Darkness!.Value)))];
        (double[] fit, int peak) = IsotonicFit.RisingThenFalling(strengths, [.. strengths.Select(_ => 1.0)]);
        double rms =
            Math.Sqrt(strengths.Zip(fit, (value, level) => (value - level) * (value - level)).Sum() / Math.Max(1, strengths.Length - 1));
        double error = Math.Max(Math.Max(rms, ChanceOf(reading.Model)(fit[peak])),
            Math.Sqrt(line.Cells.Average(cell => Math.Pow(cell.MarkStrength!.StandardError, 2))));
        int last = Math.Max(peak, 1);
        double[] along = [.. lnValues[..(last + 1)].Select(lnValue => Math.Abs(lnValue - lnValues[0]))];
        Func<double, double> y = last < 2
            ? x => Between(along, fit[..2], x)
            : CubicSpline.InterpolatePchipSorted(along, fit[..(last + 1)]).Interpolate;
        return Even(lnValues[0], lnValues[last])
            .Select(lnValue => Sample(lnValue, y(Math.Abs(lnValue - lnValues[0])), error * Math.Sqrt(2), isLighter));
    }

    /// <summary>Chance of an area burned anew, in strength, beyond the curve's own error; zero where the model names none.</summary>
    private static Func<double, double> ChanceOf(FittedModel? model)
    {
        if (model is null) return _ => 0;
        if (!model.Diagnostics.TryGetValue("extraDeviation", out double extra))
            return model.Diagnostics.TryGetValue("residualDeviation", out double residual) ? _ => residual : _ => 0;
        bool isShareOfMark = model.Diagnostics.TryGetValue("chanceInShareOfMark", out double kind) && kind > 0;
        return isShareOfMark ? strength => extra * strength : _ => extra;
    }

    private static ToneSample Sample(double lnValue, double strength, double error, bool isLighter)
    {
        double half = NormalQuantile.TwoSided95 * error;
        double middle = LightnessAt(strength), one = LightnessAt(strength - half), other = LightnessAt(strength + half);
        return new(lnValue, strength, middle, Math.Min(one, other), Math.Max(one, other));

        double LightnessAt(double s) => CieLightness.Of(Math.Max(0, isLighter ? 1 + s : 1 - s));
    }

    private static Func<double, double> Smooth(CurvePoint[] points, Func<CurvePoint, double> valueOf) =>
        CubicSpline.InterpolatePchipSorted([.. points.Select(point => point.X)], [.. points.Select(valueOf)]).Interpolate;

    private static IEnumerable<double> Even(double from, double to) =>
        Enumerable.Range(0, SampleCount + 1).Select(i => from + (to - from) * i / SampleCount);

    /// <summary>Linear between knots that run either way.</summary>
    private static double Between(double[] xs, double[] ys, double x)
    {
        int after = 1;
        while (after < xs.Length - 1 && (xs[after] - x) * (xs[1] - xs[0]) < 0) after++;
        double part = (x - xs[after - 1]) / (xs[after] - xs[after - 1]);
        return ys[after - 1] + part * (ys[after] - ys[after - 1]);
    }
}

/// <summary>One place on the line.</summary>
/// <param name="LnValue">ln of the setting that changes.</param>
/// <param name="Strength">Mark strength.</param>
/// <param name="Lightness">Its L*, bare material 100.</param>
/// <param name="Low">Lower limit of L* of an area burned anew, 95 %.</param>
/// <param name="High">Upper limit.</param>
internal sealed record ToneSample(double LnValue, double Strength, double Lightness, double Low, double High);
