using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>Looks for a faster full mark between the burned cells.</summary>
/// <remarks>In steps that a maker sets, 1 % of power and 10 mm/min, and never outside the card's range.</remarks>
internal static class BetweenCells
{
    private const double PowerStepPercent = 1, LargestPowerStep = 8, SpeedStepMmPerMin = 10;

    /// <summary>A smaller gain in speed is not worth a second burn.</summary>
    private const double LeastGain = 1.05;

    private const int CoarseSteps = 24;

    /// <summary>
    /// Times the risk that the law states. Only a setting that looks good enough is offered, and among many such looks
    /// chance flatters the chosen one; simulated cards miss about this often (docs/method/engrave-scoring.md, "Figures").
    /// </summary>
    private const double RiskOfChoice = 4;

    /// <summary>
    /// The fastest setting that is a full mark with the demanded probability; null where it gains little over the burned one.
    /// </summary>
    public static UnburnedSetting? Faster(LawChoice choice, MarkDraws draws, MarkEstimate chosen, ScoringOptions options)
    {
        ValueList<BurnedCell> cells = choice.Card.Burned;
        int index = choice.IndexOf(chosen.Marked);
        double least = Math.Ceiling(cells.Min(cell => cell.Settings.PowerPercent) / PowerStepPercent) * PowerStepPercent;
        double most = Math.Floor(cells.Max(cell => cell.Settings.PowerPercent) / PowerStepPercent) * PowerStepPercent;
        double slowest = Math.Ceiling(chosen.SpeedMmPerMin * LeastGain / SpeedStepMmPerMin) * SpeedStepMmPerMin;
        double fastest = Math.Floor(cells.Max(cell => cell.Settings.SpeedMmPerMin) / SpeedStepMmPerMin) * SpeedStepMmPerMin;
        if (slowest > fastest || least > most) return null;

        // More power carries more speed, so the fastest setting has the most power; then the least power that still does.
        if (Fastest(speed => IsSure(most, speed), slowest, fastest) is not { } speed) return null;
        double power = most;
        for (double step = LargestPowerStep; step >= PowerStepPercent; step /= 2)
            while (power - step >= least && IsSure(power - step, speed)) power -= step;
        ShareEstimate estimate = At(power, speed);
        return new()
        {
            PowerPercent = power,
            SpeedMmPerMin = speed,
            Confidence = MarkPicks.Rounded(Sureness(estimate)),
            Interval = MarkPicks.IntervalOf(estimate.Share, estimate.Low, estimate.High),
            Reasons = [EngraveMessages.Unburned(speed / chosen.SpeedMmPerMin - 1, chosen)],
        };

        bool IsSure(double powerPercent, double speedMmPerMin) => Sureness(At(powerPercent, speedMmPerMin)) >= options.FullMarkConfidence;

        ShareEstimate At(double powerPercent, double speedMmPerMin) => draws.EstimateAt(
            index, options.FullMarkShare, Math.Log(powerPercent / chosen.PowerPercent), Math.Log(speedMmPerMin / chosen.SpeedMmPerMin));
    }

    private static double Sureness(ShareEstimate estimate) => 1 - RiskOfChoice * (1 - estimate.FullMarkProbability);

    /// <summary>
    /// The highest speed that is sure, in steps: a coarse look from the fast end, since past a peak slower is not surer, then halving.
    /// </summary>
    private static double? Fastest(Func<double, bool> isSure, double slowest, double fastest)
    {
        double step = Math.Max(SpeedStepMmPerMin, Math.Ceiling((fastest - slowest) / CoarseSteps / SpeedStepMmPerMin) * SpeedStepMmPerMin);
        double sure = fastest;
        while (sure > slowest && !isSure(sure)) sure = Math.Max(slowest, sure - step);
        if (!isSure(sure)) return null;
        double unsure = Math.Min(fastest + SpeedStepMmPerMin, sure + step);
        while (unsure - sure > SpeedStepMmPerMin * 1.5)
        {
            double middle = Math.Round((sure + unsure) / 2 / SpeedStepMmPerMin) * SpeedStepMmPerMin;
            if (isSure(middle)) sure = middle;
            else unsure = middle;
        }

        return sure;
    }
}
