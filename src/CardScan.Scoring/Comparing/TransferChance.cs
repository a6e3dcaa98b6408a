using CardScan.Model;
using CardScan.Scoring.Cutting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>A setting of the first card as it is to be used for the later batch.</summary>
/// <param name="From">The first card's recommendation.</param>
/// <param name="SpeedMmPerMin">Speed for the later batch, mm/min.</param>
/// <param name="PowerPercent">Power for the later batch, percent.</param>
/// <param name="LnWatts">ln of the later machine's watts over the first's.</param>
internal sealed record TransferredSetting(Recommendation From, double SpeedMmPerMin, double PowerPercent, double LnWatts)
{
    private double LnFaster => Math.Log(SpeedMmPerMin / From.SpeedMmPerMin);

    /// <summary>
    /// ln of the effective dose that it gives, over what would do on the later batch the same as the first card's setting did.
    /// </summary>
    public double LnSurplus(DoseEstimate dose) =>
        Math.Log(PowerPercent / From.PowerPercent) + LnWatts - (dose.SpeedExponent ?? 1) * LnFaster - dose.LnRatio;

    /// <summary>Standard error of that.</summary>
    public double SurplusError(DoseEstimate dose) => double.Hypot(dose.StandardError, dose.SpeedExponentError * LnFaster);
}

/// <summary>How probably a setting of the first card reaches its goal on the later batch.</summary>
/// <remarks>
/// What the first card knows of its setting is widened by what the relative dose does not know; docs/method/comparing.md,
/// "The one answer". Nothing is credited for more energy than the setting had: cells held anyway stay held.
/// </remarks>
internal static class TransferChance
{
    /// <summary>Points of equal probability that stand for a normal distribution.</summary>
    private const int Points = 101;

    /// <summary>The probability; null where the first card does not tell how its setting hangs on dose.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="first">The first card.</param>
    /// <param name="dose">The relative dose.</param>
    /// <param name="confidence">Probability demanded, 0 to 1.</param>
    public static double? Of(TransferredSetting setting, Reading first, DoseEstimate dose, double confidence) =>
        dose.Steepness is { } steepness
            ? OfCut(setting, dose, steepness, confidence)
            : OfMark(setting, first, dose);

    /// <summary>Probability of a full mark by a card's own boundary; null where it has none at that speed.</summary>
    public static double? OwnChance(Reading reading, double speedMmPerMin, double powerPercent) =>
        BoundaryAt(reading, speedMmPerMin) is { } boundary
            ? Normal.CDF(0, 1, (Math.Log(powerPercent) - boundary.LnPower) / boundary.Error)
            : null;

    private static double? OfMark(TransferredSetting setting, Reading first, DoseEstimate dose)
    {
        if (setting.From is not { Goal: Goal.FastestFullMark, Confidence: { } known }
            || BoundaryAt(first, setting.From.SpeedMmPerMin) is not { } boundary)
            return null;
        double margin = boundary.Error * Normal.InvCDF(0, 1, known) + Math.Min(0, setting.LnSurplus(dose));
        return Normal.CDF(0, 1, margin / double.Hypot(boundary.Error, setting.SurplusError(dose)));
    }

    /// <summary>As in the scoring of cuts: how often it comes free where that is sure, else what can be counted on.</summary>
    private static double? OfCut(TransferredSetting setting, DoseEstimate dose, double steepness, double confidence)
    {
        if (setting.From is not { Goal: Goal.SureCut, Interval: { } through }) return null;
        (double logit, double lowLogit) = (Logit(through.Value), Logit(through.Low));
        double shift = steepness * Math.Min(0, setting.LnSurplus(dose)), error = steepness * setting.SurplusError(dose);
        double mean = Enumerable.Range(0, Points)
            .Average(i => Share(logit + shift + error * Normal.InvCDF(0, 1, (i + 0.5) / Points)));
        double low = Share(logit + shift - double.Hypot(logit - lowLogit, NormalQuantile.TwoSided95 * error));
        return CutScorer.StatedOf(new(Math.Min(mean, through.Value), low, through.High), confidence);
    }

    /// <summary>ln of the least power of a full mark at a speed and its standard error, between the speeds of the boundary.</summary>
    internal static (double LnPower, double Error)? BoundaryAt(Reading reading, double speedMmPerMin)
    {
        BoundaryPoint[] points =
            [.. (reading.Boundary ?? []).Where(point => point.Goal == Goal.FastestFullMark).OrderBy(point => point.SpeedMmPerMin)];
        if (Array.FindLast(points, point => point.SpeedMmPerMin <= speedMmPerMin) is not { } slower
            || Array.Find(points, point => point.SpeedMmPerMin >= speedMmPerMin) is not { } faster)
            return null;
        double share = slower == faster ? 0
            : Math.Log(speedMmPerMin / slower.SpeedMmPerMin) / Math.Log(faster.SpeedMmPerMin / slower.SpeedMmPerMin);
        double error = double.Lerp(ErrorOf(slower), ErrorOf(faster), share);
        return error > 0 ? (double.Lerp(Math.Log(slower.PowerPercent), Math.Log(faster.PowerPercent), share), error) : null;
    }

    private static double ErrorOf(BoundaryPoint point) => Math.Log(point.High / point.Low) / 2 / NormalQuantile.TwoSided95;

    private static double Logit(double share) => Math.Log(share / (1 - share));

    private static double Share(double logit) => 1 / (1 + Math.Exp(-logit));
}
