using CardScan.Model;

namespace CardScan.Scoring.Focus;

/// <summary>Best focus and beam size from the line widths of a focus ladder. Method: docs/method/focus.md.</summary>
internal static class FocusScorer
{
    /// <summary>A beam whose interval spans more than this factor is not told.</summary>
    private const double WidestBeam = 1.6;

    /// <summary>Less likely than this, and the widths do not follow the law.</summary>
    private const double LeastProbability = 0.001;

    /// <summary>A misfit of this many times the errors is no matter of small errors stated too small.</summary>
    private const double MostErrorFactor = 3;

    public static Verdict Score(Reading reading)
    {
        List<Advice> advice = [];
        FocusAxis? x = AxisOf(LadderPoint.Of(reading, widths => widths.AcrossXMm), "x", advice);
        FocusAxis? y = AxisOf(LadderPoint.Of(reading, widths => widths.AcrossYMm), "y", advice);
        if (x?.BestOffset is { } bestX && y?.BestOffset is { } bestY && (bestX.Low > bestY.High || bestY.Low > bestX.High))
            advice.Add(LadderMessages.AxesApart(bestX, bestY));
        if (x?.BestOffset is not null && x.Beam is null || y?.BestOffset is not null && y.Beam is null)
            advice.Add(LadderMessages.BeamUnknown(reading));
        double[] best = [.. new[] { x?.BestOffset, y?.BestOffset }.OfType<Interval>().Select(interval => interval.Value)];
        return new()
        {
            Advice = [.. advice, .. LadderMessages.OfLines(reading.Cells)],
            Focus = new() { OffsetMm = best.Length == 0 ? null : Math.Round(best.Average(), 3), AcrossX = x, AcrossY = y },
        };
    }

    private static FocusAxis? AxisOf(LadderPoint[] points, string axis, List<Advice> advice)
    {
        if (FocusFit.To(points) is not { } fit)
        {
            advice.Add(LadderMessages.FewWidths(axis, points.Select(point => point.OffsetMm).Distinct().Count()));
            return null;
        }

        FocusAxis known = new() { Cells = points.Length };
        (double low, double high) = fit.BestInterval();
        double best = fit.Best.Shape.BestMm;
        if (fit.MisfitProbability < LeastProbability && fit.Best.Misfit > MostErrorFactor * MostErrorFactor * fit.Freedom)
        {
            advice.Add(LadderMessages.Misfit(axis));
            return known;
        }

        known = known with { Curves = WidthBand.Of(fit) };
        if (double.IsInfinity(low) && double.IsInfinity(high))
        {
            advice.Add(LadderMessages.Flat(axis, fit));
            return known;
        }

        if (low <= fit.LowestMm || high >= fit.HighestMm) advice.Add(LadderMessages.AtEnd(axis, fit, low, high));
        if (double.IsInfinity(low) || double.IsInfinity(high) || best <= fit.LowestMm || best >= fit.HighestMm) return known;
        return known with
        {
            BestOffset = new("focusOffsetMm", Math.Round(best, 3), Math.Round(low, 3), Math.Round(high, 3)),
            Beam = BeamOf(fit),
            RayleighMm = Math.Round(fit.Best.Shape.RayleighMm, 3),
        };
    }

    /// <summary>Twice w₀ = √(A/2).</summary>
    private static Interval? BeamOf(FocusFit fit)
    {
        (double low, double high) = fit.AInterval();
        if (!(low > 0) || Math.Sqrt(high / low) > WidestBeam) return null;
        return new("beamMm", Math.Round(Math.Sqrt(2 * fit.Best.A), 4), Math.Round(Math.Sqrt(2 * low), 4),
            Math.Round(Math.Sqrt(2 * high), 4));
    }
}
