using CardScan.Model;

namespace CardScan.Planning.Tests;

/// <summary>
/// Time of a program by small steps of time: each stretch in one direction speeds up, keeps its feed, and brakes so as to stop
/// at its end.
/// </summary>
internal static class ReplayTime
{
    private const double StepSeconds = 2e-4;

    internal static double Of(IReadOnlyList<NgcMotion> motions, Machine machine)
    {
        double total = 0;
        Dictionary<(long, long), double> known = [];
        foreach ((double length, double feed) in Stretches(motions, machine.FastestFeedMmPerMin!.Value))
        {
            (long, long) key = ((long)Math.Round(length * 1000), (long)Math.Round(feed * 1000));
            if (!known.TryGetValue(key, out double seconds))
                known[key] = seconds = Seconds(length, feed / 60, machine.AccelerationMmPerS2!.Value);
            total += seconds;
        }

        return total;
    }

    private static IEnumerable<(double Length, double Feed)> Stretches(IReadOnlyList<NgcMotion> motions, double rapid)
    {
        double run = 0, feed = 0;
        bool wasRapid = false;
        (double X, double Y) heading = (0, 0);
        foreach (NgcMotion motion in motions.Where(motion => motion.From.X != motion.To.X || motion.From.Y != motion.To.Y))
        {
            double angle = Math.Atan2(motion.To.Y - motion.From.Y, motion.To.X - motion.From.X),
                speed = motion.IsRapid ? rapid : motion.FeedMmPerMin;
            (double X, double Y) next = (Math.Cos(angle), Math.Sin(angle));
            // A rapid move ends at rest, also where a line as fast follows it.
            bool goesOn = !motion.IsRapid && !wasRapid && speed == feed
                && Math.Abs(next.X - heading.X) + Math.Abs(next.Y - heading.Y) < 1e-3;
            if (!goesOn && run > 0)
            {
                yield return (run, feed);
                run = 0;
            }

            run += motion.LengthMm;
            (feed, heading, wasRapid) = (speed, next, motion.IsRapid);
        }

        if (run > 0) yield return (run, feed);
    }

    private static double Seconds(double length, double feed, double acceleration)
    {
        double at = 0, speed = 0, seconds = 0, step = Math.Min(StepSeconds, Math.Sqrt(length / acceleration) / 200);
        while (at < length)
        {
            double brakingWay = speed * speed / (2 * acceleration);
            speed = length - at <= brakingWay
                ? Math.Max(speed - acceleration * step, acceleration * step)
                : Math.Min(feed, speed + acceleration * step);
            if (speed >= feed && length - at > 1.5 * brakingWay + feed * step)
            {
                double coast = length - at - brakingWay;
                (at, seconds) = (at + coast, seconds + coast / feed);
                continue;
            }

            (at, seconds) = (at + speed * step, seconds + step);
        }

        return seconds;
    }
}
