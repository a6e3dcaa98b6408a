using CardScan.Model;
using CardScan.Scoring.Comparing;
using MathNet.Numerics.RootFinding;

namespace CardScan.Scoring.Carrying;

/// <summary>A setting of one machine to what another may need for the same effect.</summary>
public static class SettingCarrier
{
    /// <summary>No speed is looked for beyond so many times the old one, or below that part of it.</summary>
    private const double Farthest = 1000;

    private const double Accuracy = 1e-6;

    /// <summary>Carries a setting over.</summary>
    /// <param name="old">The setting on the old machine; a cut is tried at the slow end, where too little energy is least likely.</param>
    /// <param name="shift">What is known of the energy that the new machine needs, over that of the old one.</param>
    /// <param name="watts">Optical watts of the new machine, over those of the old one.</param>
    /// <param name="fastestMmPerMin">The new machine's fastest feed, mm/min; null where it is not known.</param>
    /// <remarks>
    /// v′ = v · (ρ / w)^(−1/β) at the same power; where that is too fast, P′ = P · (v″ / v′)^β at the fastest feed v″. The limits are the
    /// speeds that give enough energy with 97.5 and 2.5 %, by the errors of ρ, of the old card and of β together: with one sheet and a
    /// normal ρ, that is Fieller's interval of ln ρ / β. docs/method/carrying.md.
    /// </remarks>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static CarriedSetting Carry(SettingToCarry old, MachineShift shift, double watts, double? fastestMmPerMin)
    {
        ArgumentNullException.ThrowIfNull(old);
        ArgumentNullException.ThrowIfNull(shift);
        double exponent = old.Need.SpeedExponent, lnWatts = Math.Log(watts);
        Interval same = Speeds(0), any = Speeds(BurnedOnBoth.DeliveryVariance);
        double first = old.Goal is Goal.SureCut or Goal.CleanCut ? any.Low : any.Value;
        return fastestMmPerMin is { } fastest && first > fastest
            ? new(old.Goal, fastest, Math.Round(old.PowerPercent * Math.Pow(fastest / first, exponent)), any, same)
            : new(old.Goal, first, old.PowerPercent, any, same);

        Interval Speeds(double sheets) =>
            new(SettingTransfer.SpeedQuantity, SpeedAt(0.5, sheets), SpeedAt(0.975, sheets), SpeedAt(0.025, sheets));

        // The speed that gives enough energy with a probability: the slower, the more.
        double SpeedAt(double enough, double sheets)
        {
            double far = Math.Log(Farthest);
            double ln = Brent.TryFindRoot(Missing, -far, far, Accuracy, 100, out double root) ? root : Math.CopySign(far, 0.5 - enough);
            return Math.Max(1, SettingTransfer.RoundedSpeed(old.SpeedMmPerMin * Math.Exp(ln)));

            double Missing(double lnFaster)
            {
                double error = old.Need.At(old.SpeedMmPerMin * Math.Exp(lnFaster)).StandardError;
                return enough - shift.Below(lnWatts - exponent * lnFaster, error * error + sheets);
            }
        }
    }
}
