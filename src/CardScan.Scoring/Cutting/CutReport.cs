using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>The cut model as it stands in the reading.</summary>
internal static class CutReport
{
    /// <summary>From 5 to 95 % of the sides within 1 % of the dose, 2 · ln 19 / ln 1.01: no machine holds a dose so well.</summary>
    private const double Steepest = 592;

    public static FittedModel Of(CutLaw law, CutCard card, int outliers, CutStability? stability) => new()
    {
        Name = "penalised-logistic",
        Parameters = new([.. ParametersOf(law.Fast), .. law.Slow?.Parameters ?? []]),
        Diagnostics = new(DiagnosticsOf(law, card, outliers, stability)),
    };

    /// <summary>
    /// The power at which the harder way a side runs is open with probability ½, one point a speed; null where the card carries none.
    /// </summary>
    public static ValueList<BoundaryPoint>? Boundary(CutModel model, CutCard card)
    {
        // With several passes or focus offsets on one card there is no one power to draw.
        if (card.Cells.Select(cell => (cell.Settings.Passes, cell.Settings.FocusOffsetMm)).Distinct().Count() > 1) return null;
        double least = card.Cells.Min(cell => cell.Settings.PowerPercent);
        double most = card.Cells.Max(cell => cell.Settings.PowerPercent);
        CutPoint any = card.Cells[0].Point;
        ValueList<BoundaryPoint> points = card.Cells.Select(cell => cell.Settings.SpeedMmPerMin).Distinct().Order()
            .Select(speed => (Speed: speed, Power: model.HalfwayPower(any with { LnSpeed = Math.Log(speed) })))
            .Where(point => point.Power is { } power && power.Value >= least && power.Value <= most)
            .Select(point => new BoundaryPoint(Goal.SureCut, point.Speed, Rounded(point.Power!.Value), Rounded(point.Power.Low),
                Rounded(point.Power.High)))
            .ToValueList();
        return points.Count == 0 ? null : points;

        static double Rounded(double power) => Math.Round(power, 2);
    }

    private static IEnumerable<KeyValuePair<string, Measured>> ParametersOf(CutModel model)
    {
        if (model.PowerExponent is { } power) yield return new("powerExponent", Measured.Of(power.Value, ErrorOf(power)));
        if (model.SpeedExponent is { } speed) yield return new("speedExponent", Measured.Of(speed.Value, ErrorOf(speed)));
        if (model.PassesExponent is { } passes) yield return new("passesExponent", Measured.Of(passes.Value, ErrorOf(passes)));
        // A ratio is known by its logarithm: half the interval's width there is the normal quantile.
        if (model.DoseRatioOfRuns is { } ratio)
        {
            double error = Math.Log(ratio.High / ratio.Low) / (2 * NormalQuantile.TwoSided95);
            yield return new("doseRatioAlongYToX", Measured.Of(ratio.Value, ratio.Value * error));
        }
    }

    /// <summary>The error that reaches the farther limit; the steepest step that could be held where there is no upper one.</summary>
    private static double ErrorOf(Estimate exponent) =>
        Math.Max(exponent.Value - exponent.Low, Math.Min(exponent.High, Steepest) - exponent.Value) / NormalQuantile.TwoSided95;

    private static IEnumerable<KeyValuePair<string, double>> DiagnosticsOf(CutLaw law, CutCard card, int outliers, CutStability? stability)
    {
        CutModel model = law.Fast;
        yield return new("cellsUsed", card.Cells.Count);
        yield return new("outliers", outliers);
        yield return new("sidesUsed", card.Cells.Sum(cell => cell.DoseSides.Count()));
        if (law.Slow?.LnEnergies(card) is { } closes)
        {
            yield return new("closesAgainLnEnergyLow", Math.Round(closes.Least, 4));
            yield return new("closesAgainLnEnergyHigh", Math.Round(closes.Most, 4));
        }

        yield return new("cellsWithEnergyEnough", law.Anyway.Enough.Count);
        yield return new("cellsHeldAnyway", law.Anyway.Held.Count);
        if (law.Bridges is { Count: > 0 } bridges)
        {
            yield return new("sidesBridged", bridges.Count);
            yield return new("sidesWithDoseEnough", bridges.Sides);
        }

        yield return new("penalisedLogLikelihood", Math.Round(model.LogLikelihood, 4));
        yield return new("sideCorrelation", Math.Round(model.Chance.Correlation, 4));
        yield return new("varianceInflation", Math.Round(model.Chance.Inflation, 4));
        foreach ((string name, Estimate? exponent) in
            ((string, Estimate?)[])[("powerExponent", model.PowerExponent), ("speedExponent", model.SpeedExponent)])
        {
            if (exponent is null) continue;
            yield return new($"{name}Low", Math.Round(exponent.Low, 4));
            if (double.IsFinite(exponent.High)) yield return new($"{name}High", Math.Round(exponent.High, 4));
        }

        if (stability is not null)
        {
            yield return new("sureCutStability", Math.Round(stability.Share, 4));
            yield return new("sureCutLeaveOneOutLow", Math.Round(stability.Lowest, 4));
        }

        if (model.BestFocusMm is { } focus) yield return new("bestFocusOffsetMm", Math.Round(focus, 3));
        if (model.EnergyOnlyProbability is { } probability) yield return new("energyOnlyProbability", Math.Round(probability, 5));
    }
}
