namespace CardScan.Planning;

/// <summary>A focus that a hand turns while the job waits.</summary>
internal static class HandFocus
{
    /// <summary>
    /// A screw turned down by hand goes this much too far, mm, and comes up to its place: more than the play of its thread (common
    /// practice, no source).
    /// </summary>
    private const double BeyondMm = 0.5;

    /// <summary>What a stop takes: reading the message, turning, measuring, going on, s (common practice, no source).</summary>
    public const double SecondsPerTurn = 30;

    /// <summary>
    /// Where the focus is turned to on the way to a place, mm. Every place is reached from below, so that all have the play of
    /// the thread on the same side.
    /// </summary>
    public static IEnumerable<double> Turns(double fromMm, double toMm) =>
        toMm == fromMm ? [] : toMm < fromMm ? [toMm - BeyondMm, toMm] : [toMm];
}
