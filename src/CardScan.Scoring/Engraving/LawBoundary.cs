using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The least power that gives a full mark at each speed of the card.</summary>
internal static class LawBoundary
{
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
        double lnPower = LnPower(fit.Parameters.ToArray());
        // The limits are even in ln power, so that they stay positive.
        double half = fit.StudentQuantile * fit.StandardError(LnPower);
        return new(Goal.FastestFullMark, cell.Settings.SpeedMmPerMin, Power(lnPower), Power(lnPower - half), Power(lnPower + half));

        double LnPower(double[] p)
        {
            double needed = fit.Law.LnHighestDose(p) + Math.Log(DoseLaw.PartReaching(p, fullMarkShare));
            return Math.Log(cell.Settings.PowerPercent) + needed - fit.Law.LnEffectiveDose(p, index);
        }

        static double Power(double lnPower) => Math.Round(Math.Exp(lnPower), 2);
    }
}
