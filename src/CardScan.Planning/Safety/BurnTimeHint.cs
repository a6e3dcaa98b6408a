using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Tells of a card that takes longer than anybody stays beside it, and what of it takes so long.</summary>
internal static class BurnTimeHint
{
    /// <summary>A test card is a matter of minutes; longer than this it was seldom meant so, s (common practice, no source).</summary>
    private const double LongSeconds = 2 * 3600;

    internal static Advice? Of(Plan plan)
    {
        if (plan.Burning is null) return null;
        BurnEstimate estimate = CardPlanner.Estimate(plan);
        if (estimate.Seconds <= LongSeconds) return null;
        (string what, double seconds, string remedy) = Longest(plan, estimate);
        return new("card-long",
            $"burning takes about {estimate.TimeInWords()}, {BurnEstimate.InWords(seconds)} of it for {what}, and a laser must not run unattended: {remedy}");
    }

    private static (string What, double Seconds, string Remedy) Longest(Plan plan, BurnEstimate estimate)
    {
        (double speed, int count, double seconds) = estimate.Cells
            .Join(plan.Cells, one => (one.Row, one.Column), cell => (cell.Row, cell.Column), (one, cell) => (one.Seconds, plan.SettingsOf(cell).SpeedMmPerMin))
            .GroupBy(cell => cell.SpeedMmPerMin)
            .Select(group => (group.Key, group.Count(), group.Sum(cell => cell.Seconds)))
            .MaxBy(group => group.Item3);
        double marks = estimate.Seconds - estimate.Cells.Sum(cell => cell.Seconds);
        return marks > seconds
            ? ($"markers and labels at {plan.Burning!.Marks.SpeedMmPerMin:0.###} mm/min", marks, "give a faster --mark-speed")
            : ($"the {count} {(count == 1 ? "cell" : "cells")} at {speed:0.###} mm/min", seconds, "give faster speeds, fewer values or smaller cells");
    }
}
