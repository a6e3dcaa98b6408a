using CardScan.Model;

namespace CardScan.Scoring.Next.Design;

/// <summary>
/// Values among which an axis of the next card is chosen: all that can be set near the setting in question, coarser further away.
/// </summary>
internal static class Candidates
{
    /// <summary>How far from the speed in question a card may go, as a ratio: an exponent of speed is not believed further out.</summary>
    private const double SpeedReach = 4;

    /// <summary>Within this ratio of the setting in question every settable value is a candidate.</summary>
    private const double Near = 1.12;

    /// <summary>Ratio of neighbouring candidates further away.</summary>
    private const double Ratio = 1.05;

    public static double[] Powers(CellSettings about, DoseLimits limits) =>
        Of(about.PowerPercent, limits.Steps.PowerStepPercent, Math.Min(limits.LeastPower, about.PowerPercent),
            SettableSteps.MostPowerPercent);

    public static double[] Speeds(CellSettings about, DoseLimits limits)
    {
        SettableSteps steps = limits.Steps;
        double slowest = Math.Max(steps.SlowestMmPerMin, about.SpeedMmPerMin / SpeedReach),
            fastest = Math.Min(steps.FastestMmPerMin, about.SpeedMmPerMin * SpeedReach);
        return Of(about.SpeedMmPerMin, SettableSteps.SpeedStepMmPerMin, Math.Min(slowest, about.SpeedMmPerMin),
            Math.Max(fastest, about.SpeedMmPerMin));
    }

    /// <summary>Whole steps from zero, and the value in question itself.</summary>
    private static double[] Of(double about, double step, double least, double most)
    {
        SortedSet<double> values = [about];
        int first = (int)Math.Ceiling(least / step - 1e-9), last = (int)Math.Floor(most / step + 1e-9);
        double next = 0;
        for (int i = Math.Max(first, 1); i <= last; i++)
        {
            double value = Math.Round(i * step, 6);
            bool isNear = value > about / Near && value < about * Near;
            if (!isNear && value < next && i < last) continue;
            values.Add(value);
            next = value * Ratio;
        }

        return [.. values];
    }
}
