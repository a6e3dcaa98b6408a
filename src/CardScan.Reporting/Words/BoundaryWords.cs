using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What a boundary is of. On a cut card it is a coin toss, and must not pass for a setting.</summary>
internal static class BoundaryWords
{
    /// <summary>Caption of the table.</summary>
    public static string Caption(string goal) => goal switch
    {
        Goal.SureCut or Goal.CleanCut => "Power at which half of the sides come through, at each speed: not a setting to cut with",
        Goal.FastestFullMark => "Least power that reaches a full mark at each speed",
        _ => $"Boundary of: {Sentence.FromCode(goal)}",
    };

    /// <summary>Heading of the column of powers.</summary>
    public static string Power(string goal) => goal == Goal.FastestFullMark ? "Least power, %" : "Power, %";

    /// <summary>What the line over the heat map is.</summary>
    public static string Line(string goal) => goal switch
    {
        Goal.SureCut or Goal.CleanCut => "Line: half of the sides come through here: not a setting to cut with; with its 95 % band.",
        Goal.FastestFullMark => "Line: least power that reaches a full mark at each speed, with its 95 % band; where it leaves the grid, that power lies outside this card.",
        _ => $"Line: boundary of {Sentence.FromCode(goal)}, with its 95 % band.",
    };
}
