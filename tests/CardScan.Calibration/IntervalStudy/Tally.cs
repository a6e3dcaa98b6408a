namespace CardScan.Calibration;

/// <summary>The figures of a group of cards.</summary>
internal sealed class Tally(IReadOnlyCollection<CardResult> results)
{
    public int Cards => results.Count;

    /// <summary>Share of the cards that got a setting for the goal.</summary>
    public double RecommendedShare => Share(results, result => result.Recommended is not null);

    /// <summary>Share of the recommendations that truly do not reach their goal.</summary>
    public double MissedShare =>
        Share([.. results.Where(result => result.Recommended is not null)], result => !result.Recommended!.ReachesGoal);

    /// <summary>The same of the cells picked by eye.</summary>
    public double MissedByEyeShare => Share([.. results.Where(result => result.ByEye is not null)], result => !result.ByEye!.ReachesGoal);

    /// <summary>Share of the stated intervals of one quantity that hold the truth, and how many there were.</summary>
    public (double Share, int Count) Coverage(string quantity)
    {
        bool[] held = [.. results.SelectMany(result => result.Intervals)
            .Where(interval => interval.Quantity == quantity).Select(interval => interval.IsHeld)];
        return (held.Length == 0 ? double.NaN : held.Count(isHeld => isHeld) / (double)held.Length, held.Length);
    }

    public double Regret(double quantile) =>
        Quantile(results.Where(r => r.Regret is not null).Select(r => r.Regret!.Value.Recommended), quantile);

    public double RegretByEye(double quantile) =>
        Quantile(results.Where(r => r.Regret is not null).Select(r => r.Regret!.Value.ByEye), quantile);

    /// <summary>
    /// The same where the setting between tested cells is followed, where one is named; below 0 where it beats every burned one.
    /// </summary>
    public double RegretFollowing(double quantile) =>
        Quantile(results.Where(r => r.Followed is not null).Select(r => r.Followed!.Value.Regret), quantile);

    /// <summary>Share of those settings that truly do not reach their goal.</summary>
    public double MissedFollowingShare => Share([.. results.Where(r => r.Followed is not null)], r => !r.Followed!.Value.Pick.ReachesGoal);

    public double RegretInRange(double quantile) =>
        Quantile(results.Where(r => r.RegretInRange is not null).Select(r => r.RegretInRange!.Value), quantile);

    /// <summary>
    /// Recommendations that stated a probability inside a range: how many, the mean stated, the mean true figure, and
    /// the share that reaches the goal.
    /// </summary>
    public (int Count, double Stated, double Worth, double Reached) Reliability(double from, double below)
    {
        CardResult[] inside = [.. results.Where(result => result.Confidence >= from && result.Confidence < below)];
        return inside.Length == 0 ? (0, double.NaN, double.NaN, double.NaN)
            : (inside.Length, inside.Average(r => r.Confidence!.Value), inside.Average(r => r.Recommended!.Worth),
                Share(inside, r => r.Recommended!.ReachesGoal));
    }

    /// <summary>The same cards' settings between tested cells, where one was given.</summary>
    public Tally WithUnburned => new([.. results.Where(result => result.Unburned is not null)]);

    public (double Missed, double Stated, double Worth) Unburned => results.Count == 0 ? (double.NaN, double.NaN, double.NaN) : (
        Share(results, r => !r.Unburned!.Value.Pick.ReachesGoal), results.Average(r => r.Unburned!.Value.Confidence),
        results.Average(r => r.Unburned!.Value.Pick.Worth));

    public double UnburnedRegret(double quantile) => Quantile(results.Select(r => r.Unburned!.Value.Regret), quantile);

    private static double Share(IReadOnlyCollection<CardResult> of, Func<CardResult, bool> isSo) =>
        of.Count == 0 ? double.NaN : of.Count(isSo) / (double)of.Count;

    private static double Quantile(IEnumerable<double> values, double quantile)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? double.NaN : sorted[(int)Math.Min(sorted.Length - 1, Math.Ceiling(quantile * sorted.Length) - 1)];
    }
}
