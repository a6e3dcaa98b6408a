using CardScan.Model;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next.Design;

/// <summary>What a next card may burn: within the machine's limits, and no more energy than is safe.</summary>
/// <param name="Steps">What can be set on the machine.</param>
/// <param name="MostDose">Most power, percent, over speed, mm/min, of one pass.</param>
/// <param name="LeastPower">Lowest power, percent.</param>
internal sealed record DoseLimits(SettableSteps Steps, double MostDose, double LeastPower)
{
    /// <summary>A card may go this much past the highest dose burned so far: more would only burn more.</summary>
    public const double Reserve = 1.3;

    /// <summary>
    /// Below the lowest power burned a diode may give no light at all, so a card goes no lower than this part of it;
    /// faster gives less dose as well.
    /// </summary>
    private const double LeastPowerShare = 0.5;

    /// <summary>The limits by what was burned; past the highest dose only where no end is known.</summary>
    /// <param name="burned">All cards together.</param>
    /// <param name="about">The setting in question: its passes are those of the next card.</param>
    /// <param name="end">A known far end.</param>
    /// <param name="steps">What can be set on the machine.</param>
    public static DoseLimits Of(BurnedRange burned, CellSettings about, FarEnd end, SettableSteps steps)
    {
        double most = Math.Min(Reserve * FarEnd.DoseOf(burned.Strongest.Settings), end.MostDose) / about.Passes;
        double asked = about.PowerPercent / about.SpeedMmPerMin;
        return new(
            steps with { SlowestMmPerMin = Math.Max(steps.SlowestMmPerMin, Math.Min(end.Slowest, about.SpeedMmPerMin)) },
            Math.Max(most, asked), Math.Max(steps.PowerStepPercent, LeastPowerShare * burned.LeastPower));
    }

    public bool Allow(double powerPercent, double speedMmPerMin) => powerPercent / speedMmPerMin <= MostDose * (1 + 1e-9);
}
