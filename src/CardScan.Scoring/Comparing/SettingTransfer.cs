using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>The passes of a setting that is carried over.</summary>
/// <param name="Own">Its passes.</param>
/// <param name="Varied">True where the cards carried other passes too.</param>
internal readonly record struct CardPasses(int Own, bool Varied);

/// <summary>The first batch's recommended setting, carried over to the later one.</summary>
/// <remarks>
/// A dose factor ρ is met by the speed v · (ρ / w)^(−1/β) at the same power, w the later machine's watts over the
/// first's, or by the power P · ρ / w at the same speed. Only settings within what the two cards carried are named.
/// </remarks>
internal static class SettingTransfer
{
    /// <summary>Name of the setting that changes, where it is the speed.</summary>
    public const string SpeedQuantity = "speedMmPerMin";

    private static readonly string[] GoalsByWeight = [Goal.FastestFullMark, Goal.SureCut, Goal.Darkest, Goal.CleanCut];

    /// <summary>The setting that is carried over; null where the reading recommends none.</summary>
    public static Recommendation? SettingOf(Reading reading) =>
        GoalsByWeight.Select(goal => reading.Recommendations.FirstOrDefault(each => each.Goal == goal))
            .FirstOrDefault(each => each is not null);

    /// <summary>The change; null where neither another speed nor another power lies within what the cards carried.</summary>
    public static SettingChange? Of(Recommendation setting, Reading first, Reading later, DoseEstimate dose)
    {
        // Powers and speeds that were burned with other passes say nothing of these.
        int passes = PassesOf(setting, first, later).Own;
        CellSettings[] carried = [.. first.Cells.Concat(later.Cells).Select(cell => cell.Settings).Where(cell => cell.Passes == passes)];
        double lnWatts = Math.Log(later.Plan.Machine.RatedOpticalWatts / first.Plan.Machine.RatedOpticalWatts);
        SettingChange? bySpeed = dose.SpeedExponent is { } exponent && exponent > 0 && double.IsFinite(dose.SpeedExponentError)
            ? BySpeed(setting, dose, exponent, lnWatts)
            : null;
        if (bySpeed is not null && IsWithin(bySpeed.ToSpeedMmPerMin, carried.Select(cell => cell.SpeedMmPerMin))) return bySpeed;
        SettingChange byPower = ByPower(setting, dose, lnWatts);
        return byPower.ToPowerPercent <= 100 && IsWithin(byPower.ToPowerPercent, carried.Select(cell => cell.PowerPercent))
            ? byPower
            : null;
    }

    /// <summary>The passes of the recommended cell (the plan's where it names none), and whether the cards have others too.</summary>
    public static CardPasses PassesOf(Recommendation setting, Reading first, Reading later)
    {
        int passes = first.CellOf(setting)?.Settings.Passes ?? first.Plan.Fixed.Passes ?? 1;
        return new(passes, first.Cells.Concat(later.Cells).Any(cell => cell.Settings.Passes != passes));
    }

    private static SettingChange BySpeed(Recommendation setting, DoseEstimate dose, double exponent, double lnWatts)
    {
        double best = (dose.LnRatio - lnWatts) / exponent;
        // The exponent's own error turns the limits about the point where nothing changes.
        double turn = Normal.InvCDF(0, 1, 0.975) * Math.Abs(best) * dose.SpeedExponentError / exponent;
        double slower = Widened((dose.High - lnWatts) / exponent), faster = Widened((dose.Low - lnWatts) / exponent);
        double speed = RoundedSpeed(setting.SpeedMmPerMin * Math.Exp(-best));
        return new()
        {
            Goal = setting.Goal,
            FromSpeedMmPerMin = setting.SpeedMmPerMin, FromPowerPercent = setting.PowerPercent,
            ToSpeedMmPerMin = speed, ToPowerPercent = setting.PowerPercent,
            Interval = new(
                SpeedQuantity, speed,
                RoundedSpeed(setting.SpeedMmPerMin * Math.Exp(-slower)), RoundedSpeed(setting.SpeedMmPerMin * Math.Exp(-faster))),
        };

        double Widened(double limit) => best + Math.Sign(limit - best) * Math.Sqrt(Math.Pow(limit - best, 2) + turn * turn);
    }

    private static SettingChange ByPower(Recommendation setting, DoseEstimate dose, double lnWatts)
    {
        double power = RoundedPower(dose.LnRatio);
        return new()
        {
            Goal = setting.Goal,
            FromSpeedMmPerMin = setting.SpeedMmPerMin, FromPowerPercent = setting.PowerPercent,
            ToSpeedMmPerMin = setting.SpeedMmPerMin, ToPowerPercent = power,
            Interval = new("powerPercent", power, RoundedPower(dose.Low), RoundedPower(dose.High)),
        };

        double RoundedPower(double ln) => Math.Round(setting.PowerPercent * Math.Exp(ln - lnWatts));
    }

    /// <summary>To 10 mm/min; to 1 where that would be more than a tenth.</summary>
    internal static double RoundedSpeed(double mmPerMin) => mmPerMin >= 100 ? Math.Round(mmPerMin / 10) * 10 : Math.Round(mmPerMin);

    private static bool IsWithin(double value, IEnumerable<double> carried) =>
        carried.ToArray() is { Length: > 0 } all && value >= all.Min() && value <= all.Max();
}
