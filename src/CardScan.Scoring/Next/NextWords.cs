using CardScan.Model;
using CardScan.Scoring.Cutting;
using static CardScan.Scoring.SettingWords;

namespace CardScan.Scoring.Next;

/// <summary>The sentences a maker reads about the next card.</summary>
internal static class NextWords
{
    /// <summary>An interval that shrinks less than this, as a share of itself, is no reason to burn a card.</summary>
    private const double LittleGain = 0.2;

    public static Refusal NoBasis(string seen) => Refusal.OfInput("next-no-basis",
        $"this card gives no basis for the next one ({seen})", "put that right and read the card again, or plan a card with cardscan plan");

    public static Advice Centred(Question question, int open, int cells) => new("next-centred",
        $"the next card lies about {question.What}, {Setting(question.About)}: the outcome is open in {open} of its {cells} cells, by best estimate");

    /// <summary>Why a card is not about cells that came through faster.</summary>
    public static Advice PassedOver(PassedOver likeliest, int cells) => new("next-passed-over",
        $"{cells} faster {(cells == 1 ? "cell" : "cells")} of this card came through on all four sides; the likeliest to do so again is {Setting(likeliest.Cell.Settings)},"
        + $" by dose {CutWords.Interval(likeliest.Through)}, with {likeliest.HeldNeighbours} of the {likeliest.Neighbours} cells beside it held: not sure enough to plan about");

    public static Advice Blind(Question question) => new("next-blind",
        $"the next card lies about {question.What}, {Setting(question.About)}; no model guides it, so its settings are spread evenly and what it will tell cannot be foreseen");

    public static Advice Learns(ExpectedLearning learning, Process process)
    {
        double share = learning.TogetherPercent / learning.NowPercent;
        string gain = double.IsInfinity(learning.NowPercent) ? "this card hardly knows that limit"
            : share > 1 - LittleGain ? "that is little gained: a further card is hardly worth its material"
            : share is > 0.4 and < 0.6 ? "both together halve the interval"
            : $"both together make the interval {1 / share:0.0} times as narrow";
        return new("next-learns",
            $"{Limit(learning, process)} is known to ±{Width(learning.NowPercent)} of itself; the next card alone is expected to know it to ±{Width(learning.AlonePercent)},"
            + $" both cards together to ±{Width(learning.TogetherPercent)}: {gain}");
    }

    public static Advice LearnsLittle(ExpectedLearning learning, Process process, double stepPercent) => new("next-learns-little",
        $"{Limit(learning, process)} is known to ±{Width(learning.NowPercent)} of itself already, closer than steps of {stepPercent:0.#} % can use it:"
        + $" a further card would learn little (±{Width(learning.TogetherPercent)} by both); burn it to check the setting, or leave it");

    public static Advice Less(BurnedRange burned, double fastest, double leastPower) => new("next-less-dose",
        $"this card gives the same everywhere, down to {Setting(burned.Weakest.Settings)}, so the next one goes on from there: up to {fastest:0.#} mm/min"
        + $" and down to {leastPower:0} %; it is expected to show where it stops, or how much faster still goes");

    public static Advice More(double gain, double slowest, double mostPower) => new("next-more-dose",
        $"this card does not reach far enough, so the next one goes up to {gain:0.0} times its highest dose: up to {mostPower:0} %, down to {slowest:0.#} mm/min;"
        + " it is expected to show where the limit lies. Slow cells at high power flame first: stay beside it");

    public static Advice MorePasses(CellSettings about) => new("next-more-passes",
        $"this card does not reach far enough, and neither power nor speed has much left, so the next one has {about.Passes} passes at the same powers and speeds;"
        + " it is expected to show whether that reaches through. Charred grooves flame easily: stay beside it");

    private static string Limit(ExpectedLearning learning, Process process) =>
        $"the power that {(process == Process.Cut ? "opens half of the sides" : "gives a full mark")} at {learning.SpeedMmPerMin:0.#} mm/min ({learning.PowerPercent:0} %)";

    private static string Width(double percent) => double.IsInfinity(percent) || percent > 100 ? "more than 100 %" : $"{percent:0.0} %";
}
