using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Vision;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A card that is put together from its photos, scored, and whose page is rendered; nothing of it is written yet.</summary>
internal sealed class ReadCard
{
    private readonly ReadResult _result;
    private readonly ReportFiles? _report;
    private readonly ChosenPlan _plan;
    private readonly IReadOnlyList<MeasuredPhoto> _photos;

    private ReadCard(ReadResult result, ReportFiles? report, ChosenPlan plan, IReadOnlyList<MeasuredPhoto> photos) =>
        (_result, _report, _plan, _photos) = (result, report, plan, photos);

    /// <summary>Puts a card together.</summary>
    /// <param name="photos">Its photos, one or more, in their order.</param>
    /// <param name="request">How it is read.</param>
    /// <param name="begins">Told what is begun.</param>
    /// <param name="run">
    /// Told what was measured, and asked for the cards that were read before it in the same run; not where it is scored alone,
    /// which waits for nobody.
    /// </param>
    public static Outcome<ReadCard> Of(
        IReadOnlyList<MeasuredPhoto> photos, ReadRequest request, Action<ReadStep> begins, Func<Reading, IReadOnlyList<Reading>> run)
    {
        List<RefusedPhoto> refused = [];
        MeasuredPhoto[] measured = [.. Once(photos, refused)];
        if (measured.Length == 0) return NoneMeasured(photos, refused);
        ChosenPlan plan = measured[0].Plan!.Value;
        if (PlanBook.ObstacleTo(plan.File, request) is { } obstacle) return obstacle;

        PhotoSeries series = CardReader.SeriesIn(
            [.. measured.Select(photo => photo.View.Value), .. photos.Select(photo => photo.Aside).OfType<CardView>()]);
        measured = Toned(measured, series, request, refused);
        if (measured.Length == 0) return NoneMeasured(photos, refused);
        Outcome<Reading> seen = CardReader.Combine([.. measured.Select(photo => photo.View.Value)], plan.File, request.Vision, series);
        if (seen.IsRefused) return seen.Refusal!;
        begins(ReadStep.Scoring);
        Company company = request is { IsAlone: false, Archive: { } place }
            ? CompanyFinder.Of(seen.Value, place, justRead: run(seen.Value))
            : Company.None;
        Reading reading = ScoreReading.Score(seen.Value, company, request.Scoring);
        ReadResult result = new(reading, []) { Doubts = [.. plan.Doubts, .. company.Doubts], Refused = [.. refused] };
        if (!request.HasReport) return new ReadCard(result, null, plan, measured);
        begins(ReadStep.Reporting);
        ValueList<PagePhoto> onPage = [.. PicturesOf(measured).Select(picture => picture.OnPage())];
        return new ReadCard(result, ReportFiles.Render(reading, onPage), plan, measured);
    }

    /// <summary>
    /// The same with the annotated pictures, which take longest: every photo's is another one as soon as one photo more was read.
    /// </summary>
    /// <param name="isWanted">Asked before each picture: true where something else is to be done first.</param>
    /// <returns>The card; null where it was given up.</returns>
    public ReadCard? WithPictures(Func<bool>? isWanted = null)
    {
        if (_report is null) return this;
        List<byte[]> pictures = [];
        foreach (ShelvedPicture picture in PicturesOf(_photos))
        {
            if (isWanted?.Invoke() == true) return null;
            pictures.Add(CardReport.AnnotatedPng(_result.Reading, picture.Take(), pictures.Count));
        }

        return new(_result, _report.With(pictures.ToValueList()), _plan, _photos);
    }

    /// <summary>Writes the files and keeps the reading.</summary>
    public Outcome<ReadResult> Write(ReadRequest request)
    {
        if (_report is null) return _result;
        ReadResult result = _result;
        if (request.FolderOf(result.Reading.Plan) is { } folder)
        {
            Outcome<ValueList<string>> files = _report.Write(folder);
            if (files.IsRefused) return files.Refusal!;
            result = result with { Files = files.Value };
        }

        if (request.Archive is not { } place) return result;
        result = result with { Kept = Keep(place, request.Claim) };
        return result.Kept is { IsRefused: false, Value: var kept } && HistoryBook.DriftOn(place, kept.CardId) is { } drift
            ? result with { Doubts = [.. result.Doubts, drift] }
            : result;
    }

    /// <summary>The photos' bytes are read again: those of many would fill the memory.</summary>
    private Outcome<KeptReading> Keep(ArchivePlace place, WorkClaim? claim)
    {
        List<ReadOnlyMemory<byte>> photos = [];
        foreach (MeasuredPhoto photo in _photos)
        {
            Outcome<byte[]> bytes = InputFile.ReadPhoto(photo.Path);
            if (bytes.IsRefused) return bytes.Refusal!;
            photos.Add(bytes.Value);
        }

        return Keep(place, photos.ToValueList(), _report!.Page, claim is null ? null : claim with { Refusals = Told(_result.Refused) });
    }

    /// <summary>Adds the annotated pictures to a reading that is kept.</summary>
    public Outcome<KeptReading> KeepPictures(ArchivePlace place) => Keep(place, [], default, null);

    /// <summary>Photos that were not read, as the queue tells of them.</summary>
    public static ValueList<QueueRefusal> Told(IEnumerable<RefusedPhoto> refused) =>
        refused.Select(photo => new QueueRefusal(photo.Name, photo.Refusal.Code, $"{photo.Refusal}")).ToValueList();

    private Outcome<KeptReading> Keep(
        ArchivePlace place, ValueList<ReadOnlyMemory<byte>> photos, ReadOnlyMemory<byte> page, WorkClaim? claim)
    {
        ReadingToKeep kept = new()
        {
            PlanJson = _plan.Json,
            Reading = _result.Reading,
            Photos = photos,
            AnnotatedPictures = _report!.Pictures.Select(picture => (ReadOnlyMemory<byte>)picture).ToValueList(),
            Report = page,
            Claim = claim,
        };
        return place.Use(archive => archive.KeepReading(kept), mayMake: true);
    }

    private static IEnumerable<ShelvedPicture> PicturesOf(IEnumerable<MeasuredPhoto> photos) =>
        photos.Select(photo => photo.Picture).OfType<ShelvedPicture>();

    /// <summary>The photos of a series measured anew, with the tone curve that they tell together; others as they are.</summary>
    private static MeasuredPhoto[] Toned(
        MeasuredPhoto[] measured, PhotoSeries series, ReadRequest request, List<RefusedPhoto> refused)
    {
        MeasuredPhoto[] toned = [.. measured.Select(photo => photo.Toned(request.Vision, series))];
        refused.AddRange(toned.Where(photo => photo.View.IsRefused)
            .Select(photo => new RefusedPhoto(photo.NameOfCard, photo.View.Refusal!)));
        return [.. toned.Where(photo => !photo.View.IsRefused)];
    }

    /// <summary>The measured photos, each picture once: twice it would count as two measurements that agree perfectly.</summary>
    private static IEnumerable<MeasuredPhoto> Once(IReadOnlyList<MeasuredPhoto> photos, List<RefusedPhoto> refused)
    {
        Dictionary<string, string> seen = [];
        foreach (MeasuredPhoto photo in photos)
        {
            if (photo.Sha256 is { } sha256 && !seen.TryAdd(sha256, photo.Path))
                refused.Add(new(photo.NameOfCard, Refusal.OfInput(Codes.PhotoTwice, ("photo", photo.Path), ("other", seen[sha256]))));
            else if (photo.View.IsRefused) refused.Add(new(photo.NameOfCard, photo.View.Refusal!));
            else yield return photo;
        }
    }

    private static Refusal NoneMeasured(IReadOnlyList<MeasuredPhoto> photos, List<RefusedPhoto> refused)
    {
        (string name, Refusal refusal) = refused[0];
        // Without a plan nothing can be read, whatever the other photos are like.
        if (photos[0].Plan is { IsRefused: true } || refused.Count == 1) return refusal.In(name);
        IEnumerable<Figure> others =
            refused.Skip(1).Select(photo => new Phrase("workflow.other-photo", ("photo", photo.Name), ("code", photo.Refusal.Code)));
        return refusal.In(Voice.Say("workflow.photo-and-others", ("photo", name), ("others", List(others))));
    }
}
