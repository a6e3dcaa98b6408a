using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next;

/// <summary>Cells whose outcome nobody knows yet.</summary>
internal static class OpenCells
{
    /// <summary>A cell that reaches the goal with a probability between these, by all that is known, is an open question.</summary>
    private const double Least = 0.05, Most = 0.95;

    /// <summary>How many cells of a grid are open.</summary>
    public static int Count(CardKnowledge known, double[] powers, double[] speeds) =>
        powers.Sum(power => speeds.Count(speed => known.ChanceOfGoal(Math.Log(power), Math.Log(speed)) is > Least and < Most));
}
