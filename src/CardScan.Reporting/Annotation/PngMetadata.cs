using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What an annotated picture tells of itself to a program that shows a picture's texts.</summary>
internal static class PngMetadata
{
    /// <summary>Keywords and texts; those that the PNG specification names, then CardScan's own.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="photoIndex">The photo that the picture shows.</param>
    public static IEnumerable<(string Keyword, string Text)> Of(Reading reading, int photoIndex)
    {
        Plan plan = reading.Plan;
        yield return ("Title", PlanWords.Title(plan));
        yield return ("Description", string.Join('\n', [PlanWords.Subtitle(plan), Judgement.Of(reading).Words, .. PlanWords.ScoredTogether(reading) is { } together ? new[] { together } : [], .. reading.Recommendations.Select(recommendation => Line(recommendation, reading))]));
        yield return OwnPicture.Maker;
        yield return OwnPicture.Card(plan);
        if (reading.PlanSha256 is { } sha256) yield return ("CardScan plan SHA-256", sha256);
        yield return ("CardScan settings", string.Join('\n', AxisLine("columns", plan.Columns), AxisLine("rows", plan.Rows)));
        if (photoIndex >= reading.Photos.Count) yield break;
        yield return ("CardScan photo", reading.Photos[photoIndex].File);
        yield return ("CardScan photo SHA-256", reading.Photos[photoIndex].Sha256);
    }

    private static string Line(Recommendation recommendation, Reading reading) =>
        $"{GoalWords.Name(recommendation, reading)}: {SettingWords.WithUnit(Setting.SpeedMmPerMin, recommendation.SpeedMmPerMin)} at {SettingWords.WithUnit(Setting.PowerPercent, recommendation.PowerPercent)}{(recommendation.Card is { } card ? $", on card {card}" : "")}. {recommendation.Reason}";

    private static string AxisLine(string name, Axis axis) => $"{name}: {SettingWords.Heading(axis.Setting)}: {string.Join(", ", axis.Values.Select(Numbers.Chosen))}";
}
