using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>The cut model as it stands in the reading.</summary>
internal static class CutReport
{
    public static FittedModel Of(CutModel model, CutCard card) => new()
    {
        Name = "penalised-logistic",
        Parameters = new(ParametersOf(model)),
        Diagnostics = new(DiagnosticsOf(model, card)),
    };

    /// <summary>The power at which the harder way a side runs is open with probability ½, one point a speed; null where the card carries none.</summary>
    public static ValueList<BoundaryPoint>? Boundary(CutModel model, CutCard card)
    {
        // With several passes on one card there is no one power to draw.
        if (card.Cells.Select(cell => cell.Settings.Passes).Distinct().Count() > 1) return null;
        int passes = card.Cells[0].Settings.Passes;
        double least = card.Cells.Min(cell => cell.Settings.PowerPercent);
        double most = card.Cells.Max(cell => cell.Settings.PowerPercent);
        ValueList<BoundaryPoint> points = card.Cells.Select(cell => cell.Settings.SpeedMmPerMin).Distinct().Order()
            .Select(speed => PointAt(model, speed, passes))
            .OfType<BoundaryPoint>()
            .Where(point => point.PowerPercent >= least && point.PowerPercent <= most)
            .ToValueList();
        return points.Count == 0 ? null : points;
    }

    private static BoundaryPoint? PointAt(CutModel model, double speed, int passes)
    {
        Fieller? harder = ((Fieller?[])[model.HalfwayLnPower(Math.Log(speed), Run.AlongX), model.HalfwayLnPower(Math.Log(speed), Run.AlongY)])
            .OfType<Fieller>().MaxBy(limit => limit.Value);
        return harder is null ? null : new(Goal.SureCut, speed, PowerOf(harder.Value), PowerOf(harder.Low), PowerOf(harder.High));

        double PowerOf(double lnPower) => Math.Round(Math.Exp(lnPower) / passes, 2);
    }

    private static IEnumerable<KeyValuePair<string, Measured>> ParametersOf(CutModel model)
    {
        if (model.PowerExponent is { } power) yield return new("powerExponent", Measured.Of(power.Value, power.Error));
        if (model.SpeedExponent is { } speed) yield return new("speedExponent", Measured.Of(speed.Value, speed.Error));
        if (model.DoseRatioOfRuns is { } ratio)
        {
            // A ratio is known by its logarithm: half the interval's width there is 1.96 errors.
            double value = Math.Exp(ratio.Value);
            yield return new("doseRatioAlongYToX", Measured.Of(value, value * (ratio.High - ratio.Low) / 2 / 1.96));
        }
    }

    private static IEnumerable<KeyValuePair<string, double>> DiagnosticsOf(CutModel model, CutCard card)
    {
        yield return new("cellsUsed", card.Cells.Count);
        yield return new("sidesUsed", card.Cells.Sum(cell => cell.Sides.Count));
        yield return new("penalisedLogLikelihood", Math.Round(model.LogLikelihood, 4));
        if (model.EnergyOnlyProbability is { } probability) yield return new("energyOnlyProbability", Math.Round(probability, 5));
    }
}
