using CardScan.Model;
using CardScan.Scoring;
using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>Scores a reading of a known card and holds everything it states against the truth.</summary>
internal static class Judge
{
    public static CardResult Of(TrueCard card, Chance chance)
    {
        Reading reading = card.Read(chance);
        Reading scored = CardScorer.Score(reading, ScoringOptions.Default);
        Recommendation? recommendation = scored.Recommendations.FirstOrDefault(r => r.Goal == card.Goal);
        Pick? recommended = recommendation is null ? null : PickOf(card, recommendation.PowerPercent, recommendation.SpeedMmPerMin);
        Pick? followed = recommendation?.Unburned is { } between ? PickOf(card, between.PowerPercent, between.SpeedMmPerMin) : recommended;
        Pick? byEye = card.PickByEye(reading) is { } cell ? PickOf(card, cell.Settings.PowerPercent, cell.Settings.SpeedMmPerMin) : null;
        return new()
        {
            Intervals =
                [.. ShareIntervals(card, scored), .. CurveBands(card, scored), .. Boundary(card, scored), .. Parameters(card, scored)],
            Recommended = recommended,
            ByEye = byEye,
            Confidence = recommendation?.Confidence,
            Regret = card.FastestBurned is { } oracle && recommended is not null && byEye is not null
                ? (recommended.RegretAgainst(oracle), byEye.RegretAgainst(oracle)) : null,
            Followed = card.FastestBurned is { } burned && followed is not null && byEye is not null
                ? (followed, followed.RegretAgainst(burned))
                : null,
            RegretInRange = card.FastestInRange is { } best ? recommended?.RegretAgainst(best) : null,
            Unburned = recommendation?.Unburned is { } unburned ? UnburnedOf(card, unburned) : null,
        };
    }

    private static (Pick, double, double)? UnburnedOf(TrueCard card, UnburnedSetting unburned)
    {
        Pick pick = PickOf(card, unburned.PowerPercent, unburned.SpeedMmPerMin);
        return card.FastestInRange is { } best ? (pick, unburned.Confidence, pick.RegretAgainst(best)) : null;
    }

    private static Pick PickOf(TrueCard card, double powerPercent, double speedMmPerMin) =>
        new(speedMmPerMin, card.Worth(powerPercent, speedMmPerMin));

    private static IEnumerable<(string, bool)> ShareIntervals(TrueCard card, Reading scored)
    {
        foreach (Recommendation r in scored.Recommendations)
        {
            if (r.Interval is { } interval)
                yield return ($"interval of {r.Goal}", Holds(interval.Low, interval.High, card.Worth(r.PowerPercent, r.SpeedMmPerMin)));
            if (r.Goal == card.Goal && r.Unburned?.Interval is { } between)
                yield return ("interval of the setting not burned",
                    Holds(between.Low, between.High, card.Worth(r.Unburned.PowerPercent, r.Unburned.SpeedMmPerMin)));
        }
    }

    /// <summary>The band of the curve, read at each cell's place on it, against the cell's true strength.</summary>
    private static IEnumerable<(string, bool)> CurveBands(TrueCard card, Reading scored)
    {
        if (card is not EngravedTruth engraved || scored.Model?.Curve is not { } curve) yield break;
        foreach (CurveCell cell in curve.Cells)
        {
            double truth = engraved.Strength(card.Grid.PowersPercent[cell.Column], card.Grid.SpeedsMmPerMin[cell.Row]);
            yield return ("band of the curve", Holds(At(curve, cell.X, point => point.Low), At(curve, cell.X, point => point.High), truth));
        }
    }

    private static IEnumerable<(string, bool)> Boundary(TrueCard card, Reading scored) => (scored.Boundary ?? [])
        .Where(point => point.Goal == card.Goal)
        .Select(point => ("boundary", card.BoundaryPower(point.SpeedMmPerMin) is { } power && Holds(point.Low, point.High, power)));

    private static IEnumerable<(string, bool)> Parameters(TrueCard card, Reading scored)
    {
        if (scored.Model is not { } model) yield break;
        double quantile = model.Diagnostics.TryGetValue("effectiveDegreesOfFreedom", out double freedom) && freedom > 0
            ? StudentT.InvCDF(0, 1, freedom, 0.975) : Normal.InvCDF(0, 1, 0.975);
        foreach ((string name, double truth) in card.ParametersOf(model))
        {
            if (model.Parameters.TryGetValue(name, out Measured? stated) && stated.StandardError > 0)
                yield return (name, Math.Abs(stated.Value - truth) <= quantile * stated.StandardError);
        }
    }

    private static double At(FittedCurve curve, double x, Func<CurvePoint, double> valueOf)
    {
        int after = Math.Clamp(curve.Points.TakeWhile(point => point.X < x).Count(), 1, curve.Points.Count - 1);
        (CurvePoint left, CurvePoint right) = (curve.Points[after - 1], curve.Points[after]);
        double part = right.X > left.X ? (x - left.X) / (right.X - left.X) : 0;
        return valueOf(left) + part * (valueOf(right) - valueOf(left));
    }

    /// <summary>Limits are rounded in the file; a hair outside is inside.</summary>
    private static bool Holds(double low, double high, double truth) => truth >= low - 1e-4 && truth <= high + 1e-4;
}
