using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>A saved reading scored again: another goal, margin or limit.</summary>
public static class ScoreReading
{
    /// <summary>Scores a reading from its file alone; no photo is needed.</summary>
    /// <param name="path">Path of the reading.</param>
    /// <param name="options">Goals, limits and probabilities.</param>
    /// <param name="outputFolder">Folder for the results; null writes none.</param>
    /// <exception cref="IOException">The results cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The results may not be written.</exception>
    public static Outcome<ReadResult> Run(string path, ScoringOptions options, string? outputFolder)
    {
        Outcome<Reading> saved = InputFile.ReadReading(path);
        if (saved.IsRefused) return saved.Refusal!;

        Reading scored = CardScorer.Score(saved.Value, options);
        return new ReadResult(scored, outputFolder is null ? [] : ReportFiles.Write(scored, [], outputFolder));
    }
}
