using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The least power that gives a full mark at each speed of the card.</summary>
internal static class LawBoundary
{
    /// <summary>Furthest that a limit is looked for: a fiftieth of the strongest setting's power.</summary>
    private const double LargestReach = 4;

    private const int BisectionSteps = 14;

    /// <summary>
    /// One point a speed, by increasing speed: only where the power lies inside the card's range, since the law is not
    /// trusted outside. Null where no speed has one, or where something besides power and speed varies over the card.
    /// </summary>
    public static ValueList<BoundaryPoint>? Of(LawChoice choice, double fullMarkShare)
    {
        List<(BurnedCell Cell, int Index)> cells = [.. choice.Card.Burned.Select((cell, index) => (cell, index))];
        bool isPlain = cells.Select(c => (c.Cell.Settings.Passes, c.Cell.Settings.LineIntervalMm, c.Cell.Settings.FocusOffsetMm)).Distinct().Count() == 1;
        double least = cells.Min(c => c.Cell.Settings.PowerPercent);
        double most = cells.Max(c => c.Cell.Settings.PowerPercent);
        if (!isPlain || least == most) return null;

        ValueList<BoundaryPoint> points = cells.DistinctBy(c => c.Cell.Settings.SpeedMmPerMin)
            .OrderBy(c => c.Cell.Settings.SpeedMmPerMin)
            .Select(c => PointAt(choice, c.Cell, c.Index, fullMarkShare))
            .Where(point => point.PowerPercent >= least && point.PowerPercent <= most)
            .ToValueList();
        return points.Count == 0 ? null : points;
    }

    private static BoundaryPoint PointAt(LawChoice choice, BurnedCell cell, int index, double fullMarkShare)
    {
        LawFit best = choice.Best;
        // The peak is a full mark by definition, so every limit lies below it.
        double lnPeak = Math.Log(best.Peak / best.Law.PartAt(best.Parameters, index));
        double value = Crossing(lnPowerChange => choice.ShareAt(index, lnPowerChange), lnPeak - LargestReach, lnPeak);
        double low = Crossing(lnPowerChange => choice.EstimateAt(index, fullMarkShare, lnPowerChange).High, lnPeak - LargestReach, value);
        double high = Crossing(lnPowerChange => choice.EstimateAt(index, fullMarkShare, lnPowerChange).Low, value, lnPeak);
        return new(Goal.FastestFullMark, cell.Settings.SpeedMmPerMin, Power(value), Power(low), Power(high));

        // Where the share, or a limit of its own interval, crosses the full mark.
        double Crossing(Func<double, double> limit, double below, double above)
        {
            for (int step = 0; step < BisectionSteps; step++)
            {
                double middle = (below + above) / 2;
                if (limit(middle) < fullMarkShare) below = middle;
                else above = middle;
            }

            return (below + above) / 2;
        }

        double Power(double lnPowerChange) => Math.Round(cell.Settings.PowerPercent * Math.Exp(lnPowerChange), 2);
    }
}
