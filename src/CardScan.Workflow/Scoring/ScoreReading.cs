using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>What is to be scored again and how.</summary>
public sealed record ScoreRequest
{
    /// <summary>
    /// Path of the reading or of its report's folder, or its name in the archive; then those of earlier cards that it is scored
    /// with.
    /// </summary>
    public required ValueList<string> Readings { get; init; }

    /// <summary>Where names that are no files are looked for; null looks nowhere. Nothing is kept there.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>True to leave the archive's other cards out.</summary>
    public bool IsAlone { get; init; }

    /// <summary>Goals, limits and probabilities.</summary>
    public ScoringOptions Scoring { get; init; } = new();

    /// <summary>Folder for the results; null writes none. The page has no photo, since none is at hand.</summary>
    public string? OutputFolder { get; init; }
}

/// <summary>A saved reading scored again: with other cards, another goal, margin or limit.</summary>
public static class ScoreReading
{
    /// <summary>Scores a reading from its measured values alone; no photo is needed.</summary>
    /// <param name="request">What to score.</param>
    public static Outcome<ReadResult> Run(ScoreRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<ReadingInCompany> chosen = CompanyChoice.Of(request.Readings, request.Archive, request.IsAlone);
        if (chosen.IsRefused) return chosen.Refusal!;

        (Reading measured, Company company) = chosen.Value;
        ReadResult result = new(Score(measured, company, request.Scoring), []) { Doubts = company.Doubts };
        if (request.OutputFolder is not { } folder) return result;
        Outcome<ValueList<string>> files = ReportFiles.Render(result.Reading, []).Write(folder);
        return files.IsRefused ? files.Refusal! : result with { Files = files.Value };
    }

    /// <summary>A reading scored in its company, with what its material and its plan call for among the advice.</summary>
    internal static Reading Score(Reading reading, Company company, ScoringOptions options)
    {
        Reading scored = company.Dated(CardScorer.Score(reading, company.Readings, options));
        return MaterialWords.BesideSettings(scored with { Advice = [.. scored.Advice, .. PlanHints.Of(scored.Plan)] });
    }
}
