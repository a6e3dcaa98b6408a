using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a goal is called and means: on the page, the annotated picture and the terminal alike.</summary>
public static class GoalName
{
    /// <summary>The goal's name; its code where this version has none.</summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    public static string Of(string goal) => Voice.TrySay(new Phrase($"goal.name.{goal}")) ?? goal;

    /// <summary>The goal's name for a setting of which only this is known, as the archive lists it: nothing sure that is not.</summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    /// <param name="stated">What is stated of it, 0 to 1; null where nothing is.</param>
    /// <param name="interval">95 % interval of the figure the goal is judged by; null where there is none.</param>
    public static string Of(string goal, double? stated, Interval? interval) => Of(
        Reading.IsDoubtfulCut(goal, stated, interval) ? $"{goal}-doubtful" : Reading.IsUnsureCut(goal, stated) ? $"{goal}-likely" : goal);

    /// <summary>
    /// The name of a recommendation's goal: nothing is called cleanest where char was not measured, nothing sure that is not.
    /// </summary>
    /// <param name="recommendation">The recommendation.</param>
    /// <param name="reading">Its reading.</param>
    /// <exception cref="ArgumentNullException">One of them is null.</exception>
    public static string Of(Recommendation recommendation, Reading reading) => Of(CodeOf(recommendation, reading));

    /// <summary>What a recommendation's goal means; empty for a goal that this version does not know.</summary>
    /// <param name="recommendation">The recommendation.</param>
    /// <param name="reading">Its reading.</param>
    /// <exception cref="ArgumentNullException">One of them is null.</exception>
    public static string MeaningOf(Recommendation recommendation, Reading reading) =>
        Meaning(CodeOf(recommendation, reading)) ?? Meaning(recommendation.Goal) ?? "";

    private static string? Meaning(string code) => Voice.TrySay(new Phrase($"goal.meaning.{code}"));

    private static string CodeOf(Recommendation recommendation, Reading reading)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        ArgumentNullException.ThrowIfNull(reading);
        bool standsIn = recommendation.Goal == Goal.CleanCut && reading.CellOf(recommendation)?.HaloMm is null;
        string goal = standsIn ? "least-energy" : recommendation.Goal;
        return Reading.IsDoubtfulCut(recommendation) ? $"{goal}-doubtful"
            : reading.IsHeldByBridges(recommendation) ? $"{goal}-bridged"
            : Reading.IsUnsureCut(recommendation) ? $"{goal}-likely"
            : goal;
    }
}
