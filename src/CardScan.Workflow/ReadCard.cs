using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>What is to be read and how.</summary>
public sealed record ReadRequest
{
    /// <summary>Stands for a folder named after the card's number.</summary>
    public const string FolderOfCard = "card-*";

    /// <summary>Paths of photos of one card, one or more.</summary>
    public required ValueList<string> Photos { get; init; }

    /// <summary>Path of the plan that the card was burned from.</summary>
    public required string Plan { get; init; }

    /// <summary>Folder for the results; <see cref="FolderOfCard"/> names it after the card, null writes none.</summary>
    public string? OutputFolder { get; init; }

    /// <summary>Where the light came from; null lets each photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>Goals, limits and probabilities.</summary>
    public ScoringOptions Scoring { get; init; } = new();
}

/// <summary>What came of it.</summary>
/// <param name="Reading">Measured and scored.</param>
/// <param name="Files">Paths of the files written, the page first.</param>
public sealed record ReadResult(Reading Reading, ValueList<string> Files);

/// <summary>Photos to reading to recommendations to report.</summary>
public static class ReadCard
{
    /// <summary>Reads a card. Nothing is written unless all of it succeeded.</summary>
    /// <param name="request">What to read.</param>
    /// <param name="progress">Told what is being done.</param>
    /// <returns>The reading and its files, or why there are none.</returns>
    public static Outcome<ReadResult> Run(ReadRequest request, IProgress<string>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<PlanFile> plan = InputFile.ReadPlan(request.Plan);
        if (plan.IsRefused) return plan.Refusal!;
        if (NotYetRead(plan.Value.Plan) is { } unread) return unread;

        string? folder = request.OutputFolder == ReadRequest.FolderOfCard ? $"card-{plan.Value.Plan.Number}" : request.OutputFolder;
        if (folder is not null && ReportFiles.FirstObstacle(folder, plan.Value.Plan, plan.Value.Sha256) is { } obstacle) return obstacle;

        Outcome<List<PhotoFile>> photos = LoadPhotos(request.Photos);
        if (photos.IsRefused) return photos.Refusal!;

        VisionOptions options = new() { WithPictures = folder is not null, Light = request.Light };
        Outcome<SeenCard> seen = CardReader.Read(photos.Value, plan.Value, options, new Renamed(progress, name => $"reading {name}"));
        if (seen.IsRefused) return seen.Refusal!;

        progress?.Report("scoring");
        Reading reading = ScoreReading.Score(seen.Value.Reading, request.Scoring);
        if (folder is null) return new ReadResult(reading, []);

        progress?.Report("writing the report");
        Outcome<ValueList<string>> files = ReportFiles.Write(reading, seen.Value.Pictures, folder);
        return files.IsRefused ? files.Refusal! : new ReadResult(reading, files.Value);
    }

    /// <summary>What can be planned and not yet be read; to measure it as an ordinary grid would give wrong answers without a word.</summary>
    private static Refusal? NotYetRead(Plan plan)
    {
        string? what = plan.Kind == CardKind.FocusLadder ? "a focus ladder"
            : plan.Frame is not null ? "a grid inside a frame sheet"
            : plan.Cells.Any(cell => cell.Tabs is { Count: > 0 }) ? "cut cells with tabs"
            : null;
        return what is null ? null : Refusal.OfInput("plan-unread", $"the plan is of {what}, which this version cannot read", "keep plan and photos for a later version, or judge the card by eye");
    }

    private static Outcome<List<PhotoFile>> LoadPhotos(ValueList<string> paths)
    {
        List<PhotoFile> photos = [];
        Dictionary<string, string> seen = [];
        foreach (string path in paths)
        {
            Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
            if (bytes.IsRefused) return bytes.Refusal!;
            // The same picture twice would count as two measurements that agree perfectly.
            if (!seen.TryAdd(CardJson.Sha256(bytes.Value), path))
                return Refusal.OfInput("photo-twice", $"{path} is the same picture as {seen[CardJson.Sha256(bytes.Value)]}", "give each photo once");
            photos.Add(new PhotoFile(Path.GetFileName(path), bytes.Value));
        }

        return photos;
    }

    private sealed class Renamed(IProgress<string>? inner, Func<string, string> name) : IProgress<string>
    {
        public void Report(string value) => inner?.Report(name(value));
    }
}
