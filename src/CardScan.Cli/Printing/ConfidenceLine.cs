using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>How sure a setting is: the best estimate, and what can be counted on where that is less.</summary>
internal static class ConfidenceLine
{
    /// <summary>In a sentence: "confidence 97 %" or "best estimate 79 %, count on 43 %".</summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    /// <param name="stated">What is stated of it, 0 to 1.</param>
    /// <param name="interval">95 % interval of the figure the goal is judged by.</param>
    public static string Of(string goal, double stated, Interval? interval) => Said("terminal.confidence", goal, stated, interval);

    /// <summary>Under the heading of a column: "97 %" or "best estimate 79 %, count on 43 %".</summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    /// <param name="stated">What is stated of it, 0 to 1.</param>
    /// <param name="interval">95 % interval of the figure the goal is judged by.</param>
    public static string InColumn(string goal, double stated, Interval? interval) =>
        Said("terminal.confidence-of", goal, stated, interval);

    private static string Said(string code, string goal, double stated, Interval? interval) => Voice.Say(code, Known(
        ("confidence", Share(stated)), ("best", Reading.BestEstimateOf(goal, stated, interval) is { } best ? Share(best) : null)));
}
