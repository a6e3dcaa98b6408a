using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Carrying;

/// <summary>A setting of one machine to what another may need for the same effect.</summary>
public static class SettingCarrier
{
    /// <summary>Carries a setting over.</summary>
    /// <param name="goal">Its goal: a cut is tried at the slow end of the interval, where too little energy is least likely.</param>
    /// <param name="old">The setting on the old machine.</param>
    /// <param name="speedExponent">β of the old card, above 0: the effect goes with power over speed to this power.</param>
    /// <param name="watts">Optical watts of the new machine, over those of the old one.</param>
    /// <param name="factor">Energy that the new machine needs, over that of the old one, with its interval.</param>
    /// <param name="fastestMmPerMin">The new machine's fastest feed, mm/min; null where it is not known.</param>
    /// <remarks>v′ = v · (ρ / w)^(−1/β) at the same power; where that is too fast, P′ = P · (v″ / v′)^β at the fastest feed v″.</remarks>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static CarriedSetting Carry(
        string goal, CellSettings old, double speedExponent, double watts, Interval factor, double? fastestMmPerMin)
    {
        ArgumentNullException.ThrowIfNull(old);
        ArgumentNullException.ThrowIfNull(factor);
        Interval speed = new("speedMmPerMin", At(factor.Value), At(factor.High), At(factor.Low));
        double first = goal is Goal.SureCut or Goal.CleanCut ? speed.Low : speed.Value;
        return fastestMmPerMin is { } fastest && first > fastest
            ? new(goal, fastest, Math.Round(old.PowerPercent * Math.Pow(fastest / first, speedExponent)), speed)
            : new(goal, first, old.PowerPercent, speed);

        double At(double energy) =>
            Math.Max(1, SettingTransfer.RoundedSpeed(old.SpeedMmPerMin * Math.Pow(energy / watts, -1 / speedExponent)));
    }
}
