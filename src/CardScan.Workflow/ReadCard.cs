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

    /// <summary>Folder for the results; <see cref="FolderOfCard"/> at its end stands for a name after the card, null writes none.</summary>
    public string? OutputFolder { get; init; }

    /// <summary>The archive that finds the plan and keeps the reading; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>True to score the card alone, whatever cards of its material the archive has.</summary>
    public bool IsAlone { get; init; }

    /// <summary>Where the light came from; null lets each photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>Goals, limits and probabilities.</summary>
    public ScoringOptions Scoring { get; init; } = new();

    /// <summary>True where a report is to be rendered, with pictures.</summary>
    internal bool HasReport => OutputFolder is not null || Archive is not null;

    /// <summary>How the photos are to be looked at.</summary>
    internal VisionOptions Vision => new() { WithPictures = HasReport, Light = Light, Room = PhotoRoom.Places };
}

/// <summary>What came of it.</summary>
/// <param name="Reading">Measured and scored.</param>
/// <param name="Files">Paths of the files written, the page first.</param>
public sealed record ReadResult(Reading Reading, ValueList<string> Files)
{
    /// <summary>What is doubtful about which plan was used, and which other cards.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];

    /// <summary>The photos that the reading had to do without; a person must be told.</summary>
    public ValueList<RefusedPhoto> Refused { get; init; } = [];

    /// <summary>What the archive made of it; null where none is used.</summary>
    public Outcome<KeptReading>? Kept { get; init; }
}

/// <summary>A card that is read and whose report is rendered; nothing of it is written yet.</summary>
/// <param name="Result">The reading.</param>
/// <param name="Report">Its report; null where none is wanted.</param>
/// <param name="Photos">The photos' bytes by their fingerprints.</param>
/// <param name="Plan">The plan that it was read with.</param>
internal sealed record RenderedCard(ReadResult Result, ReportFiles? Report, IReadOnlyDictionary<string, ReadOnlyMemory<byte>> Photos, ChosenPlan Plan);

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
        Task preparing = CardReader.Prepare();
        try
        {
            Outcome<RenderedCard> card = Render(request, null, new PhotoProgress(progress), progress);
            return card.IsRefused ? card.Refusal! : Write(request, card.Value);
        }
        finally
        {
            // A process must not end in the middle of native code.
            Task.WaitAny(preparing);
        }
    }

    /// <summary>Everything that takes time: reads, scores, renders.</summary>
    /// <param name="request">What to read.</param>
    /// <param name="numbers">The card's number, and others that its first photo shows, where they are known already.</param>
    /// <param name="photo">Told the name of each photo before it is read; by several threads.</param>
    /// <param name="progress">Told what is done then.</param>
    /// <param name="sights">The photos, where they were looked at already.</param>
    /// <param name="run">Told what was measured, and asked for the cards that were read before it in the same run; null where it is the only one.</param>
    internal static Outcome<RenderedCard> Render(ReadRequest request, ValueList<int>? numbers, IProgress<string>? photo, IProgress<string>? progress, ValueList<PhotoSight>? sights = null, Func<Reading, IReadOnlyList<Reading>>? run = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<ChosenPlan>? chosen = request.Plan is { } name ? Usable(PlanChoice.Named(name, request.Archive), request) : null;
        if (chosen is { IsRefused: true }) return chosen.Refusal!;
        if (chosen is null && numbers is not null && ByNumber(numbers).Refusal is { } unknown) return unknown.In(Path.GetFileName(request.Photos[0]));

        List<RefusedPhoto> unread = [];
        Dictionary<string, ReadOnlyMemory<byte>> bytes = [];
        Outcome<SeenCard> seen = sights is not null && chosen is not null
            ? CardReader.Combine([.. Once(sights, request.Photos, unread)], chosen.Value.File, request.Vision)
            : Read([.. Photos(request.Photos, bytes, unread)]);
        if (seen.IsRefused) return seen.Refusal!;
        progress?.Report("scoring");
        Company company = request is { IsAlone: false, Archive: { } place } ? CompanyFinder.Of(seen.Value.Reading, place, justRead: run?.Invoke(seen.Value.Reading)) : Company.None;
        ReadResult result = new(ScoreReading.Score(seen.Value.Reading, company, request.Scoring), []) { Doubts = [.. chosen!.Value.Doubts, .. company.Doubts], Refused = [.. unread, .. seen.Value.Refused] };
        if (request.HasReport) progress?.Report("writing the report");
        return new RenderedCard(result, request.HasReport ? ReportFiles.Render(result.Reading, seen.Value.Pictures) : null, bytes, chosen.Value);

        Outcome<SeenCard> Read(PhotoFile[] photos)
        {
            if (photos.Length == 0) return unread[0].Refusal;
            return chosen is not null
                ? CardReader.Read(photos, chosen.Value.File, request.Vision, photo)
                : CardReader.Read(photos, ByNumber, request.Vision, photo);
        }

        Outcome<PlanFile> ByNumber(ValueList<int> seenNumbers)
        {
            chosen = Usable(PlanChoice.ByNumber(seenNumbers, request.Archive), request);
            return chosen.IsRefused ? chosen.Refusal! : chosen.Value.File;
        }
    }

    /// <summary>Writes the files and keeps the reading.</summary>
    internal static Outcome<ReadResult> Write(ReadRequest request, RenderedCard card)
    {
        ReadResult result = card.Result;
        if (card.Report is not { } report) return result;
        if (FolderOf(request, result.Reading.Plan) is { } folder)
        {
            Outcome<ValueList<string>> files = report.Write(folder);
            if (files.IsRefused) return files.Refusal!;
            result = result with { Files = files.Value };
        }

        if (request.Archive is not { } place) return result;
        ReadingToKeep kept = new()
        {
            PlanJson = card.Plan.Json,
            Reading = result.Reading,
            Photos = result.Reading.Photos.Select(photo => card.Photos[photo.Sha256]).ToValueList(),
            AnnotatedPictures = report.Pictures.Select(picture => (ReadOnlyMemory<byte>)picture).ToValueList(),
            Report = report.Page,
        };
        return result with { Kept = place.Use(archive => archive.KeepReading(kept), mayMake: true) };
    }

    /// <summary>The plan, unless its card's folder cannot take the results: asked before the work, so that it is not done in vain.</summary>
    private static Outcome<ChosenPlan> Usable(Outcome<ChosenPlan> plan, ReadRequest request)
    {
        if (plan.IsRefused) return plan;
        PlanFile file = plan.Value.File;
        return FolderOf(request, file.Plan) is { } folder && ReportFiles.FirstObstacle(folder, file.Plan, file.Sha256) is { } obstacle ? obstacle : plan;
    }

    private static string? FolderOf(ReadRequest request, Plan plan) => request.OutputFolder?.Replace(ReadRequest.FolderOfCard, OutputFolder.OfCard(plan.Number), StringComparison.Ordinal);

    /// <summary>The photos that are there, each picture once.</summary>
    private static IEnumerable<PhotoFile> Photos(ValueList<string> paths, Dictionary<string, ReadOnlyMemory<byte>> bytes, List<RefusedPhoto> unread)
    {
        Twins twins = new(unread);
        foreach (string path in paths)
        {
            string name = Path.GetFileName(path);
            Outcome<byte[]> read = InputFile.ReadPhoto(path);
            if (read.IsRefused)
            {
                unread.Add(new(name, read.Refusal!));
                continue;
            }

            string sha256 = CardJson.Sha256(read.Value);
            if (!twins.IsNew(path, sha256)) continue;
            bytes[sha256] = read.Value;
            yield return new PhotoFile(name, read.Value);
        }
    }

    /// <summary>What was seen in the photos, each picture once.</summary>
    private static IEnumerable<PhotoSight> Once(ValueList<PhotoSight> sights, ValueList<string> paths, List<RefusedPhoto> unread)
    {
        Twins twins = new(unread);
        return sights.Zip(paths).Where(pair => twins.IsNew(pair.Second, pair.First.Sha256)).Select(pair => pair.First);
    }

    /// <summary>Finds pictures that are given twice: they would count as two measurements that agree perfectly.</summary>
    private sealed class Twins(List<RefusedPhoto> unread)
    {
        private readonly Dictionary<string, string> _seen = [];

        public bool IsNew(string path, string sha256)
        {
            if (_seen.TryAdd(sha256, path)) return true;
            unread.Add(new(Path.GetFileName(path), Refusal.OfInput("photo-twice", $"{path} is the same picture as {_seen[sha256]}", "give each photo once")));
            return false;
        }
    }

    private sealed class PhotoProgress(IProgress<string>? progress) : IProgress<string>
    {
        public void Report(string value) => progress?.Report($"reading {value}");
    }
}
