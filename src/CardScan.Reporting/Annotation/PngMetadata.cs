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
        yield return ("Title", ShownPlan.Title(plan));
        yield return ("Description", string.Join('\n', Description(reading)));
        yield return OwnPicture.Maker;
        yield return OwnPicture.Card(plan);
        if (reading.PlanSha256 is { } sha256) yield return ("CardScan plan SHA-256", sha256);
        yield return ("CardScan settings", $"{AxisLine("columns", plan.Columns)}\n{AxisLine("rows", plan.Rows)}");
        if (photoIndex >= reading.Photos.Count) yield break;
        yield return ("CardScan photo", reading.Photos[photoIndex].File);
        yield return ("CardScan photo SHA-256", reading.Photos[photoIndex].Sha256);
    }

    private static IEnumerable<string> Description(Reading reading)
    {
        yield return ShownPlan.Subtitle(reading.Plan);
        yield return Judgement.Of(reading).Words;
        if (ShownPlan.ScoredTogether(reading) is { } together) yield return together;
        foreach (Recommendation recommendation in reading.Recommendations) yield return Line(recommendation, reading);
    }

    private static string Line(Recommendation recommendation, Reading reading) => Voice.Say("picture.recommendation",
    [
        ("goal", GoalName.Of(recommendation, reading)), ("setting", ShownSetting.Of(reading, recommendation)),
        ("reason", recommendation.Reason), .. recommendation.Card is { } card ? [("card", card)] : Array.Empty<(string, Figure)>(),
    ]);

    private static string AxisLine(string name, Axis axis) => Voice.Say(
        "picture.axis",
        ("line", name), ("setting", ShownSetting.Heading(axis.Setting)),
        ("values", List(axis.Values.Select(value => ShownSetting.Bare(axis.Setting, value)))));
}
