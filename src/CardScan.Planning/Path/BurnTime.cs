using CardScan.Model;

namespace CardScan.Planning;

/// <summary>How long a job takes and how much energy it delivers.</summary>
/// <remarks>
/// Every stretch in one direction runs from rest to rest with constant acceleration: v = min(feed, √(a·s)) is reached,
/// t = s / v + v / a. Corners and reversals are stops. Source: docs/method/burn-time.md.
/// </remarks>
internal static class BurnTime
{
    internal static BurnEstimate Of(BurnJob job, double ratedOpticalWatts)
    {
        List<CellEstimate> cells = [];
        double total = 0, energy = 0;
        MachinePoint at = new(0, 0);
        foreach (Piece piece in job.Pieces)
        {
            double seconds = 0;
            foreach (Stroke stroke in piece.Strokes)
            {
                seconds += Straight(at.DistanceTo(stroke.Start), job.Machine.FastestMmPerMin, job.Machine.AccelerationMmPerS2)
                    + Of(stroke, piece.SpeedMmPerMin, job.Machine.AccelerationMmPerS2);
                at = stroke.End;
            }

            double joules = piece.BurnedMm / (piece.SpeedMmPerMin / 60) * piece.PowerPercent / 100 * ratedOpticalWatts;
            if (piece.Cell is { } cell) cells.Add(new(cell.Row, cell.Column, seconds, joules));
            (total, energy) = (total + seconds, energy + joules);
        }

        total += Straight(at.DistanceTo(new(0, 0)), job.Machine.FastestMmPerMin, job.Machine.AccelerationMmPerS2);
        return new(total, energy, cells.OrderBy(cell => cell.Row).ThenBy(cell => cell.Column).ToValueList());
    }

    private static double Of(Stroke stroke, double feedMmPerMin, double acceleration)
    {
        double seconds = 0, run = 0;
        (double X, double Y) heading = default;
        foreach ((MachinePoint from, MachinePoint to, _) in stroke.Parts())
        {
            double length = from.DistanceTo(to);
            if (length == 0) continue;
            (double X, double Y) next = ((to.XMm - from.XMm) / length, (to.YMm - from.YMm) / length);
            if (run > 0 && heading.X * next.X + heading.Y * next.Y < 1 - 1e-9)
            {
                seconds += Straight(run, feedMmPerMin, acceleration);
                run = 0;
            }

            (run, heading) = (run + length, next);
        }

        return seconds + Straight(run, feedMmPerMin, acceleration);
    }

    private static double Straight(double lengthMm, double feedMmPerMin, double acceleration)
    {
        if (lengthMm <= 0) return 0;
        double speed = Math.Min(feedMmPerMin / 60, Math.Sqrt(acceleration * lengthMm));
        return lengthMm / speed + speed / acceleration;
    }
}
