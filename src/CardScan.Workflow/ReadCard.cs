using CardScan.Archive;
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

    /// <summary>Path of the plan that the card was burned from, or the card's name in the archive; null takes the archive's newest open card with the number in the photo.</summary>
    public string? Plan { get; init; }

    /// <summary>Folder for the results; <see cref="FolderOfCard"/> names it after the card, null writes none.</summary>
    public string? OutputFolder { get; init; }

    /// <summary>The archive that finds the plan and keeps the reading; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>Where the light came from; null lets each photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>Goals, limits and probabilities.</summary>
    public ScoringOptions Scoring { get; init; } = new();
}

/// <summary>What came of it.</summary>
/// <param name="Reading">Measured and scored.</param>
/// <param name="Files">Paths of the files written, the page first.</param>
public sealed record ReadResult(Reading Reading, ValueList<string> Files)
{
    /// <summary>What is doubtful about which plan was used.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];

    /// <summary>What the archive made of it; null where none is used.</summary>
    public Outcome<KeptReading>? Kept { get; init; }
}

/// <summary>Photos to reading to recommendations to report, kept in the archive.</summary>
public static class ReadCard
{
    /// <summary>Reads a card. Nothing is written unless all of it succeeded.</summary>
    /// <param name="request">What to read.</param>
    /// <param name="progress">Told what is being done.</param>
    /// <returns>
    /// The reading and its files, or why there are none. An archive that cannot keep it spoils neither: that is told in
    /// <see cref="ReadResult.Kept"/>.
    /// </returns>
    public static Outcome<ReadResult> Run(ReadRequest request, IProgress<string>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<ChosenPlan>? chosen = request.Plan is { } name ? Usable(PlanChoice.Named(name, request.Archive), request) : null;
        if (chosen is { IsRefused: true }) return chosen.Refusal!;

        Outcome<List<PhotoFile>> photos = LoadPhotos(request.Photos);
        if (photos.IsRefused) return photos.Refusal!;

        VisionOptions options = new() { WithPictures = request.OutputFolder is not null || request.Archive is not null, Light = request.Light };
        Renamed reading = new(progress, name => $"reading {name}");
        Outcome<SeenCard> seen = chosen is not null
            ? CardReader.Read(photos.Value, chosen.Value.File, options, reading)
            : CardReader.Read(photos.Value, ByNumber, options, reading);
        if (seen.IsRefused) return seen.Refusal!;
        progress?.Report("scoring");
        Reading scored = ScoreReading.Score(seen.Value.Reading, request.Scoring);
        return Report(request, scored, seen.Value.Pictures, photos.Value, chosen!.Value, progress);

        Outcome<PlanFile> ByNumber(ValueList<int> numbers)
        {
            chosen = Usable(PlanChoice.ByNumber(numbers, request.Archive), request);
            return chosen.IsRefused ? chosen.Refusal! : chosen.Value.File;
        }
    }

    private static Outcome<ReadResult> Report(
        ReadRequest request, Reading reading, ValueList<CardPicture> pictures, List<PhotoFile> photos, ChosenPlan plan, IProgress<string>? progress)
    {
        ReadResult result = new(reading, []) { Doubts = plan.Doubts };
        if (request.OutputFolder is null && request.Archive is null) return result;

        progress?.Report("writing the report");
        ReportFiles report = ReportFiles.Render(reading, pictures);
        if (FolderOf(request, reading.Plan) is { } folder)
        {
            Outcome<ValueList<string>> files = report.Write(folder);
            if (files.IsRefused) return files.Refusal!;
            result = result with { Files = files.Value };
        }

        if (request.Archive is not { } place) return result;
        ReadingToKeep kept = new()
        {
            PlanJson = plan.Json,
            Reading = reading,
            Photos = photos.Select(photo => photo.Bytes).ToValueList(),
            AnnotatedPictures = report.Pictures.Select(picture => (ReadOnlyMemory<byte>)picture).ToValueList(),
            Report = report.Page,
        };
        return result with { Kept = place.Use(archive => archive.KeepReading(kept), mayMake: true) };
    }

    /// <summary>The plan, unless it is of a kind that cannot be read, or its card's folder cannot take the results: asked before the work, so that it is not done in vain.</summary>
    private static Outcome<ChosenPlan> Usable(Outcome<ChosenPlan> plan, ReadRequest request)
    {
        if (plan.IsRefused) return plan;
        PlanFile file = plan.Value.File;
        if (NotYetRead(file.Plan) is { } unread) return unread;
        return FolderOf(request, file.Plan) is { } folder && ReportFiles.FirstObstacle(folder, file.Plan, file.Sha256) is { } obstacle ? obstacle : plan;
    }

    /// <summary>What can be planned and not yet be read; to measure it as an ordinary grid would give wrong answers without a word.</summary>
    private static Refusal? NotYetRead(Plan plan)
    {
        string? what = plan.Kind == CardKind.FocusLadder ? "a focus ladder"
            : plan.Frame is not null && (plan.Process == Process.Cut || plan.Kind == CardKind.FocusLadder) ? "a frame sheet around something other than filled cells"
            : plan.Cells.Any(cell => cell.Tabs is { Count: > 0 }) ? "cut cells with tabs"
            : null;
        return what is null ? null : Refusal.OfInput("plan-unread", $"the plan is of {what}, which this version cannot read", "keep plan and photos for a later version, or judge the card by eye");
    }

    private static string? FolderOf(ReadRequest request, Plan plan) => request.OutputFolder == ReadRequest.FolderOfCard ? OutputFolder.OfCard(plan.Number) : request.OutputFolder;

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
