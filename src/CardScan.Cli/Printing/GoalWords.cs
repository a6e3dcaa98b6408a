using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Names of the goals as the page has them too; a test holds the two together.</summary>
internal static class GoalWords
{
    /// <summary>The goal in words with its code, which other programs and the documents use: "Sure cut (sure-cut)".</summary>
    public static string WithCode(Recommendation recommendation, Reading reading) => $"{Name(recommendation, reading)} ({recommendation.Goal})";

    private static string Name(Recommendation recommendation, Reading reading) => recommendation.Goal switch
    {
        Goal.SureCut when reading.IsHeldByBridges(recommendation) => "Cuts through, apart from small bridges",
        Goal.CleanCut when reading.IsHeldByBridges(recommendation) => IsCharKnown(recommendation, reading) ? "Cleanest cut with small bridges" : "Least energy that cuts, with small bridges",
        Goal.SureCut when Reading.IsUnsureCut(recommendation) => "Likely cut, not sure",
        Goal.CleanCut when Reading.IsUnsureCut(recommendation) => IsCharKnown(recommendation, reading) ? "Cleanest likely cut, not sure" : "Least energy that is likely to cut, not sure",
        Goal.FastestFullMark => "Fastest full mark",
        Goal.Darkest => "Strongest mark",
        Goal.SureCut => "Sure cut",
        // Nothing is called cleanest where char was not measured.
        Goal.CleanCut => IsCharKnown(recommendation, reading) ? "Cleanest sure cut" : "Least energy that cuts surely",
        _ => "Setting",
    };

    private static bool IsCharKnown(Recommendation recommendation, Reading reading) => reading.CellOf(recommendation)?.HaloMm is not null;
}
