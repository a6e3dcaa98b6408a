using CardScan.Model;

namespace CardScan.TruthCheck;

/// <summary>What was recommended for a goal, and whether truth agrees.</summary>
/// <param name="Cell">The cell; null where none was recommended.</param>
/// <param name="IsRight">True where truth agrees.</param>
/// <param name="IsExplained">True where nothing was recommended and the reading says why.</param>
internal sealed record Pick(CellAddress? Cell, bool IsRight, bool IsExplained)
{
    /// <summary>A wrong cell, or none without a word.</summary>
    public bool IsMissed => Cell is null ? !IsExplained : !IsRight;

    public static Pick Of(Reading reading, string goal, Func<CellAddress, bool> isRight)
    {
        CellAddress? cell = reading.Recommendations.FirstOrDefault(one => one.Goal == goal)?.Cell;
        return new(cell, cell is not null && isRight(cell), reading.Advice.Any(advice => advice.Goal == goal));
    }

    public override string ToString() =>
        Cell is null ? (IsExplained ? "none, explained" : "none") : $"({Cell.Row},{Cell.Column}) {(IsRight ? "right" : "wrong")}";
}
