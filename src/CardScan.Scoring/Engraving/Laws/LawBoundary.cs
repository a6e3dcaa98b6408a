using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>The least power that gives a full mark at each speed of the card.</summary>
internal static class LawBoundary
{
    /// <summary>Steps of ln power at which each draw is looked at; between them a limit lies on a straight line.</summary>
    private const double Step = 0.1;

    /// <summary>How far outside the card's powers a limit is looked for, ln.</summary>
    private const double Reach = 0.4;

    /// <summary>
    /// One point a speed, by increasing speed: only where the power lies inside the card's range, since the law is not
    /// trusted outside. Null where no speed has one, or where something besides power and speed varies over the card.
    /// </summary>
    public static ValueList<BoundaryPoint>? Of(LawChoice choice, MarkDraws draws, double fullMarkShare)
    {
        List<(BurnedCell Cell, int Index)> cells = [.. choice.Card.Burned.Select((cell, index) => (cell, index))];
        bool isPlain = cells.Select(c => (c.Cell.Settings.Passes, c.Cell.Settings.LineIntervalMm, c.Cell.Settings.FocusOffsetMm))
            .Distinct().Count() == 1;
        double least = cells.Min(c => c.Cell.Settings.PowerPercent);
        double most = cells.Max(c => c.Cell.Settings.PowerPercent);
        if (!isPlain || least == most) return null;

        ValueList<BoundaryPoint> points = cells.DistinctBy(c => c.Cell.Settings.SpeedMmPerMin)
            .OrderBy(c => c.Cell.Settings.SpeedMmPerMin)
            .Select(c => PointAt(draws, c.Cell, c.Index, fullMarkShare, least, most))
            .OfType<BoundaryPoint>()
            .ToValueList();
        return points.Count == 0 ? null : points;
    }

    /// <summary>Null where the limit, by best estimate, lies outside the card's powers.</summary>
    private static BoundaryPoint? PointAt(MarkDraws draws, BurnedCell cell, int index, double fullMarkShare, double least, double most)
    {
        double lowest = Math.Log(least) - Reach, highest = Math.Log(most) + Reach;
        double[] powers = [.. Enumerable.Range(0, 1 + (int)Math.Ceiling((highest - lowest) / Step)).Select(k => lowest + k * Step)];
        double lnPower = Math.Log(cell.Settings.PowerPercent);
        double[] limits = [.. draws.SharesAlong(index, [.. powers.Select(power => power - lnPower)])
            .Select(shares => LimitOf(powers, shares, fullMarkShare))];
        (_, double low, double high) = MarkDraws.Summary(limits);
        double value = MarkDraws.Median(limits);
        return value < Math.Log(least) || value > Math.Log(most)
            ? null
            : new(Goal.FastestFullMark, cell.Settings.SpeedMmPerMin, Power(value), Power(low), Power(high));

        static double LimitOf(double[] powers, double[] shares, double fullMarkShare)
        {
            int first = Array.FindIndex(shares, share => share >= fullMarkShare);
            return first < 0 ? powers[^1] : first == 0 ? powers[0]
                : powers[first] - Step * (shares[first] - fullMarkShare) / (shares[first] - shares[first - 1]);
        }

        static double Power(double ln) => Math.Round(Math.Exp(ln), 2);
    }
}
