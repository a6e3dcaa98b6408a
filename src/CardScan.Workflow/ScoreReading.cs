using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>A saved reading scored again: another goal, margin or limit.</summary>
public static class ScoreReading
{
    /// <summary>Scores a reading from its measured values alone; no photo is needed.</summary>
    /// <param name="name">Path of the reading or of its report's folder, or its name in the archive.</param>
    /// <param name="archive">Where a name that is no file is looked for; null looks nowhere. Nothing is kept there.</param>
    /// <param name="options">Goals, limits and probabilities.</param>
    /// <param name="outputFolder">Folder for the results; null writes none. The page has no photo, since none is at hand.</param>
    public static Outcome<ReadResult> Run(string name, ArchivePlace? archive, ScoringOptions options, string? outputFolder)
    {
        Outcome<Reading> saved = ReadingSource.One(name, archive);
        if (saved.IsRefused) return saved.Refusal!;

        Reading scored = Score(saved.Value, options);
        if (outputFolder is null) return new ReadResult(scored, []);
        Outcome<ValueList<string>> files = ReportFiles.Render(scored, []).Write(outputFolder);
        return files.IsRefused ? files.Refusal! : new ReadResult(scored, files.Value);
    }

    /// <summary>A reading scored, with the hints that its plan calls for among the advice.</summary>
    internal static Reading Score(Reading reading, ScoringOptions options)
    {
        Reading scored = CardScorer.Score(reading, options);
        return scored with { Advice = [.. scored.Advice, .. PlanHints.Of(scored.Plan)] };
    }
}
