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

    public static Advice Centred(Question question, int open, int cells, Process process) => new("next-centred",
        $"the next card is about {question.What}, {Setting(question.About)}: {open} of its {cells} cells may or may not {(process == Process.Cut ? "come through" : "give a full mark")};"
        + $" the others show {(process == Process.Cut ? "how steep the step is" : "the strongest mark and how it is reached")}");

    /// <summary>Why a card is not about cells that came through faster.</summary>
    public static Advice PassedOver(PassedOver likeliest, int cells) => new("next-passed-over",
        $"{cells} faster {(cells == 1 ? "cell" : "cells")} of this card came through on all four sides; the likeliest to do so again is {Setting(likeliest.Cell.Settings)},"
        + $" by dose {CutWords.Interval(likeliest.Through)}, with {likeliest.HeldNeighbours} of the {likeliest.Neighbours} cells beside it held: not sure enough to plan about");

    public static Advice Blind(Question question) => new("next-blind",
        $"the next card lies about {question.What}, {Setting(question.About)}; no model guides it, so its settings are spread evenly and what it will tell cannot be foreseen");

    public static Advice Learns(ExpectedLearning learning, Process process)
    {
        string doubt = learning.TogetherPercent > (1 - LittleGain) * learning.NowPercent ? ": that is little gained, and hardly worth its material" : "";
        return new("next-learns",
            $"{Limit(learning, process)} is known to ±{Width(learning.NowPercent)} now; with this card to ±{Width(learning.TogetherPercent)}"
            + $" (burning the same card again: ±{Width(learning.AgainPercent)}; by this card alone: ±{Width(learning.AlonePercent)}){doubt}");
    }

    public static Advice LearnsLittle(ExpectedLearning learning, Process process, double stepPercent) => new("next-learns-little",
        $"{Limit(learning, process)} is known to ±{Width(learning.NowPercent)} already, closer than steps of {stepPercent:0.#} % can use it:"
        + $" a further card would learn little (±{Width(learning.TogetherPercent)} with it); burn it to check the setting, or leave it");

    public static Advice Less(BurnedRange burned, double fastest, double leastPower, bool isBeyondPeak) => new("next-less-dose",
        $"{(isBeyondPeak ? "the mark is weaker with more energy all over this card, from" : "this card gives the same everywhere, down to")} {Setting(burned.Weakest.Settings)}{(isBeyondPeak ? " on" : "")}, so the next one goes on from there: up to {fastest:0.#} mm/min"
        + $" and down to {leastPower:0} %; it is expected to show {(isBeyondPeak ? "where the mark is strongest" : "where it stops, or how much faster still goes")}");

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
