using CardScan.Model;

namespace CardScan.Scoring.Next;

/// <summary>The powers and speeds that somebody sets on a machine, within its limits.</summary>
internal sealed record SettableSteps(double PowerStepPercent, double SlowestMmPerMin, double FastestMmPerMin)
{
    public const double SpeedStepMmPerMin = 10;

    public const double MostPowerPercent = 100;

    public static SettableSteps Of(NextCardOptions options) =>
        new(options.PowerStepPercent, options.SlowestMmPerMin, options.FastestMmPerMin);

    /// <summary>Some powers from one to another, in equal ratios as far as steps allow; never none.</summary>
    public double[] SpreadPowers(double low, double high, int count) =>
        Spread(Between(Math.Max(low, PowerStepPercent), Math.Min(high, MostPowerPercent), PowerStepPercent), count);

    /// <summary>Some speeds from one to another, in equal ratios as far as steps allow; never none.</summary>
    public double[] SpreadSpeeds(double low, double high, int count) =>
        Spread(Between(Math.Max(low, SlowestMmPerMin), Math.Min(high, FastestMmPerMin), SpeedStepMmPerMin), count);

    private static double[] Between(double low, double high, double step)
    {
        int first = (int)Math.Round(low / step), last = Math.Max(first, (int)Math.Round(high / step));
        return [.. Enumerable.Range(first, last - first + 1).Select(i => Math.Round(i * step, 6)).Where(value => value > 0)];
    }

    /// <summary>Each the settable value nearest to its place among those not taken yet.</summary>
    private static double[] Spread(double[] settable, int count)
    {
        if (settable.Length <= count) return settable;
        double ratio = settable[^1] / settable[0];
        int[] taken = new int[count];
        for (int i = 0; i < count; i++)
        {
            double wanted = settable[0] * Math.Pow(ratio, i / (count - 1.0));
            int nearest = Enumerable.Range(0, settable.Length).MinBy(k => Math.Abs(settable[k] - wanted));
            taken[i] = Math.Clamp(nearest, i == 0 ? 0 : taken[i - 1] + 1, settable.Length - count + i);
        }

        return [.. taken.Select(k => settable[k])];
    }
}
