using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The least power that gives a full mark at each speed of the card.</summary>
internal static class LawBoundary
{
    /// <summary>Furthest that the lower limit is looked for: a twentieth of the power.</summary>
    private const double LargestReach = 3;

    private const int BisectionSteps = 16;

    /// <summary>
    /// One point a speed, by increasing speed: only where the power lies inside the card's range, since the law is not
    /// trusted outside. Null where no speed has one, or where something besides power and speed varies over the card.
    /// </summary>
    public static ValueList<BoundaryPoint>? Of(LawFit fit, double fullMarkShare)
    {
        List<(BurnedCell Cell, int Index)> cells = [.. fit.Card.Burned.Select((cell, index) => (cell, index))];
        bool isPlain = cells.Select(c => (c.Cell.Settings.Passes, c.Cell.Settings.LineIntervalMm, c.Cell.Settings.FocusOffsetMm)).Distinct().Count() == 1;
        double least = cells.Min(c => c.Cell.Settings.PowerPercent);
        double most = cells.Max(c => c.Cell.Settings.PowerPercent);
        if (!isPlain || least == most) return null;

        ValueList<BoundaryPoint> points = cells.DistinctBy(c => c.Cell.Settings.SpeedMmPerMin)
            .OrderBy(c => c.Cell.Settings.SpeedMmPerMin)
            .Select(c => PointAt(fit, c.Cell, c.Index, fullMarkShare))
            .Where(point => point.PowerPercent >= least && point.PowerPercent <= most)
            .ToValueList();
        return points.Count == 0 ? null : points;
    }

    private static BoundaryPoint PointAt(LawFit fit, BurnedCell cell, int index, double fullMarkShare)
    {
        double[] best = fit.Parameters.ToArray();
        double lnHighest = LnPowerAt(1);
        double lnPower = LnPowerAt(DoseLaw.PartReaching(best, fullMarkShare));
        double target = Math.Log(1 - fullMarkShare);
        double low = Crossing(lnPower, lnPower - LargestReach, -fit.StudentQuantile);
        // The highest dose of the card is a full mark by definition, so the limit lies below it.
        double high = Crossing(lnPower, lnHighest, fit.StudentQuantile);
        return new(Goal.FastestFullMark, cell.Settings.SpeedMmPerMin, Power(lnPower), Power(low), Power(high));

        double LnPowerAt(double part) =>
            Math.Log(cell.Settings.PowerPercent) + fit.Law.LnHighestDose(best) + Math.Log(part) - fit.Law.LnEffectiveDose(best, index);

        // Where a limit of the share's own interval crosses the full mark: even in the logarithm of the shortfall, as the
        // cells' intervals are, and not in the power, which bends away sharply near the plateau.
        double Crossing(double inside, double outside, double quantile)
        {
            for (int step = 0; step < BisectionSteps; step++)
            {
                double middle = (inside + outside) / 2;
                double limit = LnShortfall(best, middle) + quantile * fit.StandardError(p => LnShortfall(p, middle));
                if (quantile < 0 ? limit < target : limit > target) inside = middle;
                else outside = middle;
            }

            return (inside + outside) / 2;
        }

        double LnShortfall(double[] p, double lnPower)
        {
            double lnDose = fit.Law.LnEffectiveDose(p, index) + lnPower - Math.Log(cell.Settings.PowerPercent);
            return Math.Log(Math.Max(1 - DoseLaw.ShareAt(p, Math.Exp(lnDose - fit.Law.LnHighestDose(p))), 1e-9));
        }

        static double Power(double lnPower) => Math.Round(Math.Exp(lnPower), 2);
    }
}
