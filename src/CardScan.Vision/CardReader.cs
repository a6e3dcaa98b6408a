using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How photos are to be read.</summary>
public sealed record VisionOptions
{
    /// <summary>True to get the rectified pictures too, for a report.</summary>
    public bool WithPictures { get; init; }

    /// <summary>Where the light came from; null lets the photo tell.</summary>
    public Light? Light { get; init; }
}

/// <summary>What the photos of one card tell.</summary>
/// <param name="Reading">Everything measured, not yet scored.</param>
/// <param name="Pictures">The rectified photos, in the order of <see cref="Reading.Photos"/>; empty unless asked for.</param>
public sealed record SeenCard(Reading Reading, ValueList<CardPicture> Pictures);

/// <summary>Photos and plan to reading: the one entry to this stage.</summary>
public static class CardReader
{
    /// <summary>Reads one card from one or more photos of it.</summary>
    /// <param name="photos">At least one; all of the plan's card.</param>
    /// <param name="plan">The plan the card was burned from.</param>
    /// <param name="options">How to read.</param>
    /// <param name="progress">Told the name of each photo before it is read.</param>
    /// <returns>The reading, or the first photo's refusal: a photo that cannot be measured is never silently left out.</returns>
    /// <exception cref="ArgumentException">No photo was given.</exception>
    public static Outcome<SeenCard> Read(IReadOnlyList<PhotoFile> photos, PlanFile plan, VisionOptions options, IProgress<string>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(photos);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(options);
        if (photos.Count == 0) throw new ArgumentException("At least one photo is needed.", nameof(photos));

        List<SeenPhoto> seen = [];
        foreach (PhotoFile photo in photos)
        {
            progress?.Report(photo.Name);
            Outcome<SeenPhoto> outcome = ReadPhoto(photo, plan.Plan, options);
            if (outcome.IsRefused) return outcome.Refusal!.In(photo.Name);
            seen.Add(outcome.Value);
        }

        Reading reading = new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan.Plan,
            PlanSha256 = plan.Sha256,
            Photos = seen.Select(photo => photo.Record).ToValueList(),
            Cells = CellFusion.Fuse([.. seen.Select(photo => photo.Cells)]),
        };
        return new SeenCard(reading, seen.Where(photo => photo.Picture is not null).Select(photo => photo.Picture!).ToValueList());
    }

    private static Outcome<SeenPhoto> ReadPhoto(PhotoFile file, Plan plan, VisionOptions options)
    {
        Outcome<DecodedPhoto> decoded = PhotoDecoder.Decode(file.Bytes);
        if (decoded.IsRefused) return decoded.Refusal!;
        using DecodedPhoto photo = decoded.Value;

        Outcome<MarkerSet> markers = MarkerFinder.Find(photo.Picture, plan.Number);
        if (markers.IsRefused) return markers.Refusal!;

        ValueList<RefinedMarker> refined = MarkerRefiner.Refine(photo.Picture, markers.Value);
        Outcome<SolvedPose> solved = PoseSolver.Solve(photo.Picture, refined, plan, photo.FocalLength35Mm);
        if (solved.IsRefused) return solved.Refusal!;
        if (PhotoCheck.Check(photo.Picture, solved.Value, plan) is { } refusal) return refusal;

        CardSurface surface = new(photo.Picture, solved.Value.Pose);
        if (LightField.Fit(surface, plan) is not { } light)
            return Refusal.OfPhoto("no-bare-material", "too little bare material of the card is in the photo", "take the photo again with the whole card in the frame");

        ValueList<CellReading> cells = CellMeasurer.Measure(surface, light, plan, solved.Value.Pose);
        PhotoRecord record = new()
        {
            File = file.Name,
            Sha256 = CardJson.Sha256(file.Bytes.Span),
            Light = options.Light ?? Light.Front,
            WidthPx = photo.Picture.Width,
            HeightPx = photo.Picture.Height,
            PxPerMm = Math.Round(solved.Value.PxPerMm, 2),
            TiltDeg = Math.Round(solved.Value.Camera.TiltDeg, 1),
            ReprojectionRmsPx = Math.Round(solved.Value.ReprojectionRmsPx, 3),
            Warnings = [.. photo.Warnings, .. markers.Value.Warnings, .. solved.Value.Warnings, .. PhotoCheck.Doubts(light, cells)],
        };
        return new SeenPhoto(record, cells, options.WithPictures ? Rectifier.Rectify(photo.Picture, solved.Value, plan.Card) : null);
    }

    private sealed record SeenPhoto(PhotoRecord Record, ValueList<CellReading> Cells, CardPicture? Picture);
}
