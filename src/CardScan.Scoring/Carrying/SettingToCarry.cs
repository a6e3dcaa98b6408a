using CardScan.Model;
using CardScan.Scoring.Comparing;
using CardScan.Scoring.History;

namespace CardScan.Scoring.Carrying;

/// <summary>A setting of the old machine, with how well its card knows the energy that it takes.</summary>
/// <param name="Goal">One of <see cref="Model.Goal"/>.</param>
/// <param name="PowerPercent">Percent of full power.</param>
/// <param name="SpeedMmPerMin">Speed, mm/min.</param>
/// <param name="Need">The card's need of energy; its error is that of the energy which the goal takes.</param>
/// <remarks>docs/method/carrying.md, "The setting".</remarks>
public sealed record SettingToCarry(string Goal, double PowerPercent, double SpeedMmPerMin, EnergyNeed Need)
{
    /// <summary>The setting of a card.</summary>
    /// <param name="reading">The card's reading.</param>
    /// <param name="setting">A setting that it recommends.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static SettingToCarry Of(Reading reading, RecommendationEntry setting)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(setting);
        EnergyNeed need = CardNeed.Of(reading).Need ?? CardNeed.Unknown(setting.SpeedMmPerMin);
        double beyond = setting.Goal == Model.Goal.FastestFullMark ? BeyondHalf(reading, need, setting.SpeedMmPerMin) : 0;
        double error = Math.Max(BurnedOnBoth.LeastError, Math.Sqrt(need.StandardError * need.StandardError + beyond));
        return new(setting.Goal, setting.PowerPercent, setting.SpeedMmPerMin, need with { StandardError = error });
    }

    /// <summary>Variance of ln of the energy: what a full mark's end, where the curve is flat, is known less well than its half.</summary>
    private static double BeyondHalf(Reading reading, EnergyNeed need, double speedMmPerMin) =>
        TransferChance.BoundaryAt(reading, speedMmPerMin) is { } end
            ? Math.Max(0, Math.Pow(end.Error, 2) - Math.Pow(need.At(speedMmPerMin).StandardError, 2))
            : 0;
}
