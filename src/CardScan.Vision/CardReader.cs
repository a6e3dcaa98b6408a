using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How photos are to be read.</summary>
public sealed record VisionOptions
{
    /// <summary>True to get the rectified pictures too, for a report.</summary>
    public bool WithPictures { get; init; }

    /// <summary>Where the light came from; null lets the photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>
    /// Entered by each photo while its picture is held: bounds the memory of all who read at the same time. Null bounds
    /// nothing; photos are read side by side where threads are free.
    /// </summary>
    public SemaphoreSlim? Room { get; init; }
}

/// <summary>What the photos of one card tell.</summary>
/// <param name="Reading">Everything measured, not yet scored.</param>
/// <param name="Pictures">The rectified photos, in the order of <see cref="Reading.Photos"/>; empty unless asked for.</param>
/// <param name="Refused">The photos that the reading had to do without.</param>
public sealed record SeenCard(Reading Reading, ValueList<CardPicture> Pictures, ValueList<RefusedPhoto> Refused);

/// <summary>A photo that was not measured.</summary>
/// <param name="Name">Its file's name.</param>
/// <param name="Refusal">Why, and what to do.</param>
public sealed record RefusedPhoto(string Name, Refusal Refusal);

/// <summary>What one photo tells by itself; <see cref="CardReader.Look"/> makes it.</summary>
public sealed record PhotoSight
{
    internal PhotoSight(PhotoFile photo, ValueList<int> numbers, Outcome<SeenPhoto> seen) => (Name, Sha256, Numbers, Seen) = (photo.Name, CardJson.Sha256(photo.Bytes.Span), numbers, seen);

    /// <summary>Its file's name.</summary>
    public string Name { get; }

    /// <summary>Fingerprint of its bytes.</summary>
    public string Sha256 { get; }

    /// <summary>The numbers of the cards whose markers it shows, the one with most markers first; one or more.</summary>
    public ValueList<int> Numbers { get; }

    internal Outcome<SeenPhoto> Seen { get; }
}

/// <summary>Photos and plan to reading: the one entry to this stage.</summary>
public static class CardReader
{
    private static readonly Lazy<Task> Prepared = new(() => Task.Run(MarkerFinder.Rehearse));

    /// <summary>Reads one card from one or more photos of it.</summary>
    /// <param name="photos">At least one; all of the plan's card.</param>
    /// <param name="plan">The plan the card was burned from.</param>
    /// <param name="options">How to read.</param>
    /// <param name="progress">Told the name of each photo before it is read; by several threads.</param>
    /// <returns>
    /// The reading of all photos that can be measured, with those that cannot in <see cref="SeenCard.Refused"/>; the first
    /// photo's refusal where none can.
    /// </returns>
    /// <exception cref="ArgumentException">No photo was given.</exception>
    public static Outcome<SeenCard> Read(IReadOnlyList<PhotoFile> photos, PlanFile plan, VisionOptions options, IProgress<string>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return ReadAll(photos, plan, _ => plan, options, progress);
    }

    /// <summary>Reads one card whose plan is found by the number that its markers say.</summary>
    /// <param name="photos">At least one; all of the same card.</param>
    /// <param name="planOf">
    /// Gives the plan of the card that the first readable photo shows. It is given the numbers of the cards whose markers are
    /// seen, the one with most markers first; what it refuses is refused as it is.
    /// </param>
    /// <param name="options">How to read.</param>
    /// <param name="progress">Told the name of each photo before it is read.</param>
    /// <returns>As above.</returns>
    /// <exception cref="ArgumentException">No photo was given.</exception>
    public static Outcome<SeenCard> Read(
        IReadOnlyList<PhotoFile> photos, Func<ValueList<int>, Outcome<PlanFile>> planOf, VisionOptions options, IProgress<string>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(planOf);
        return ReadAll(photos, null, picture =>
        {
            Outcome<ValueList<int>> numbers = MarkerFinder.CardNumbers(picture);
            return numbers.IsRefused ? numbers.Refusal! : planOf(numbers.Value);
        }, options, progress);
    }

    /// <summary>The numbers of the cards whose markers a photo shows, the one with most markers first: a glance that sorts many photos.</summary>
    /// <param name="photo">The photo.</param>
    public static Outcome<ValueList<int>> CardNumbers(PhotoFile photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        if (PhotoDecoder.DecodeQuarter(photo.Bytes) is { } small)
        {
            using (small)
            {
                if (MarkerFinder.CardsAtAGlance(small) is { Count: > 0 } numbers) return numbers;
            }
        }

        Outcome<DecodedPhoto> decoded = PhotoDecoder.Decode(photo.Bytes);
        if (decoded.IsRefused) return decoded.Refusal!;
        using DecodedPhoto whole = decoded.Value;
        return MarkerFinder.CardNumbers(whole.Picture);
    }

    /// <summary>Measures one photo by itself, for <see cref="Combine"/>: where the photos of many cards lie in any order, each is decoded once.</summary>
    /// <param name="photo">The photo; its bytes need not be kept.</param>
    /// <param name="planOf">Gives the plan of the card that the photo shows, by the numbers of the cards whose markers are seen; null where there is none, and nothing is measured then.</param>
    /// <param name="options">How to read; rectified pictures are not made.</param>
    /// <returns>What it tells; or why not even a card is seen in it.</returns>
    public static Outcome<PhotoSight> Look(PhotoFile photo, Func<ValueList<int>, PlanFile?> planOf, VisionOptions options)
    {
        ArgumentNullException.ThrowIfNull(photo);
        ArgumentNullException.ThrowIfNull(planOf);
        ArgumentNullException.ThrowIfNull(options);
        ValueList<int> numbers = [];
        Outcome<SeenPhoto> seen = See(photo, picture =>
        {
            Outcome<ValueList<int>> found = MarkerFinder.CardNumbers(picture);
            if (found.IsRefused) return found.Refusal!;
            numbers = found.Value;
            return planOf(numbers) is { } plan ? plan : NoPlan;
        }, options with { WithPictures = false }, null);
        return numbers.Count == 0 ? seen.Refusal! : new PhotoSight(photo, numbers, seen);
    }

    /// <summary>Reads one card from photos that were looked at by themselves.</summary>
    /// <param name="photos">At least one; all of the plan's card.</param>
    /// <param name="plan">The plan that they were measured with.</param>
    /// <param name="options">How they were measured.</param>
    /// <returns>As <see cref="Read(IReadOnlyList{PhotoFile}, PlanFile, VisionOptions, IProgress{string}?)"/>.</returns>
    /// <exception cref="ArgumentException">No photo was given.</exception>
    public static Outcome<SeenCard> Combine(IReadOnlyList<PhotoSight> photos, PlanFile plan, VisionOptions options)
    {
        ArgumentNullException.ThrowIfNull(photos);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(options);
        if (photos.Count == 0) throw new ArgumentException("At least one photo is needed.", nameof(photos));
        return Joined(photos.Select(photo => (photo.Name, photo.Seen)), plan, options);
    }

    /// <summary>Loads the native library on another thread, while a first photo and its plan are fetched; only the first call does anything.</summary>
    /// <returns>What is being done. Where it fails, reading a photo fails in the same way.</returns>
    public static Task Prepare() => Prepared.Value;

    private static Outcome<SeenCard> ReadAll(IReadOnlyList<PhotoFile> photos, PlanFile? plan, Func<Picture, Outcome<PlanFile>> planOf, VisionOptions options, IProgress<string>? progress)
    {
        ArgumentNullException.ThrowIfNull(photos);
        ArgumentNullException.ThrowIfNull(options);
        if (photos.Count == 0) throw new ArgumentException("At least one photo is needed.", nameof(photos));

        Outcome<SeenPhoto>[] outcomes = new Outcome<SeenPhoto>[photos.Count];
        int first = 0;
        for (; plan is null && first < photos.Count; first++)
        {
            Outcome<PlanFile>? found = null;
            outcomes[first] = See(photos[first], picture => found = planOf(picture), options, progress);
            // Without a plan nothing can be read, whatever the other photos are like.
            if (found?.Refusal is { Kind: not RefusalKind.UnmeasurablePhoto } noPlan) return noPlan.In(photos[first].Name);
            plan = found is { IsRefused: false } ? found.Value : null;
        }

        Parallel.For(first, photos.Count, i => outcomes[i] = See(photos[i], _ => plan!, options, progress));
        return Joined(photos.Zip(outcomes, (photo, outcome) => (photo.Name, outcome)), plan!, options);
    }

    private static Outcome<SeenCard> Joined(IEnumerable<(string Name, Outcome<SeenPhoto> Outcome)> photos, PlanFile plan, VisionOptions options)
    {
        SeenPhoto[] seen = [.. photos.Where(photo => !photo.Outcome.IsRefused).Select(photo => photo.Outcome.Value)];
        RefusedPhoto[] refused = [.. photos.Where(photo => photo.Outcome.IsRefused).Select(photo => new RefusedPhoto(photo.Name, photo.Outcome.Refusal!))];
        return seen.Length > 0 ? ReadingOf(seen, plan, options, refused) : NoneRead(refused);
    }

    /// <summary>Decodes and measures one photo.</summary>
    private static Outcome<SeenPhoto> See(PhotoFile photo, Func<Picture, Outcome<PlanFile>> planOf, VisionOptions options, IProgress<string>? progress)
    {
        options.Room?.Wait();
        try
        {
            progress?.Report(photo.Name);
            Outcome<DecodedPhoto> decoded = PhotoDecoder.Decode(photo.Bytes);
            if (decoded.IsRefused) return decoded.Refusal!;
            using DecodedPhoto picture = decoded.Value;
            Outcome<PlanFile> plan = planOf(picture.Picture);
            return plan.IsRefused ? plan.Refusal! : ReadPhoto(photo, picture, plan.Value.Plan, options);
        }
        finally
        {
            options.Room?.Release();
        }
    }

    private static Refusal NoneRead(RefusedPhoto[] refused)
    {
        Refusal first = refused[0].Refusal.In(refused[0].Name);
        return refused.Length == 1 ? first : first with { Seen = $"{first.Seen} (nor can the others be read: {string.Join(", ", refused.Skip(1).Select(photo => $"{photo.Name}, {photo.Refusal.Code}"))})" };
    }

    private static Outcome<SeenCard> ReadingOf(SeenPhoto[] seen, PlanFile plan, VisionOptions options, RefusedPhoto[] refused)
    {
        ValueList<CellReading> cells = CellFusion.Fuse(plan.Plan, seen);
        if (plan.Plan.Process == Process.Cut && seen.All(photo => photo.BackLit is null) && cells.All(cell => cell.HaloMm is null))
            return NothingMeasured(options.Light);
        Reading reading = new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan.Plan,
            PlanSha256 = plan.Sha256,
            Photos = Records(seen, plan.Plan, cells, options.Light),
            Cells = cells,
            Kerf = SideSummary.KerfOf(cells.Select(cell => cell.Sides).OfType<Sides>()),
        };
        return new SeenCard(reading, seen.Select(photo => photo.Picture).OfType<CardPicture>().ToValueList(), refused.ToValueList());
    }

    /// <summary>Neither sides nor char: a reading would be empty and pass for one.</summary>
    private static Refusal NothingMeasured(Light? asked) => Refusal.OfPhoto(
        "nothing-measured", "no light from behind was read, and no char could be measured beside any cut either",
        asked == Light.Front ? "leave the light option out if a lamp is behind the card, or photograph the card again with one" : "photograph the card again with a lamp or light pad behind it");

    private static Outcome<SeenPhoto> ReadPhoto(PhotoFile file, DecodedPhoto photo, Plan plan, VisionOptions options)
    {
        if (plan.Process == Process.Engrave && options.Light == Light.Back)
            return Refusal.OfInput("engraved-back-lit", "the plan is of an engraved card, whose marks are read in front light", "leave the light option out, and photograph the card without a lamp behind it");
        Outcome<MarkerSet> markers = MarkerFinder.Find(photo.Picture, plan);
        if (markers.IsRefused) return markers.Refusal!;

        ValueList<RefinedMarker> refined = MarkerRefiner.Refine(photo.Picture, markers.Value);
        Outcome<SolvedPose> solved = PoseSolver.Solve(photo.Picture, refined, plan, photo.Shot.FocalLength35Mm);
        if (solved.IsRefused) return solved.Refusal!;
        if (DrawnPicture.Check(new(photo.Picture, solved.Value.Pose), plan) is { } drawn) return drawn;
        // A drawing's own edges run along its rows too.
        if (photo.IsStepped) return PhotoDecoder.Damaged;
        if (PhotoCheck.Check(photo.Picture, solved.Value, plan) is { } refusal) return refusal;

        SolvedPose pose = BowFinder.Correct(photo.Picture, refined, solved.Value, plan);
        PhotoQuality quality = QualityMeter.Of(photo.Picture, refined, pose.PxPerMm);
        Outcome<Target> target = FramedGrid.Find(photo.Picture, pose.Pose, plan, markers.Value.IsInverted);
        if (target.IsRefused) return target.Refusal!;
        Outcome<Measurement> measured = Measure(target.Value, pose with { Pose = target.Value.Pose }, options.Light, quality, refined.Select(marker => marker.Place));
        if (measured.IsRefused) return measured.Refusal!;
        PhotoRecord record = new()
        {
            File = file.Name,
            Sha256 = CardJson.Sha256(file.Bytes.Span),
            Taken = photo.Shot.Taken,
            Light = measured.Value.BackLit is null ? Light.Front : Light.Back,
            WidthPx = photo.Picture.Width,
            HeightPx = photo.Picture.Height,
            PxPerMm = Math.Round(pose.PxPerMm, 2),
            TiltDeg = Math.Round(pose.Camera.TiltDeg, 1),
            ReprojectionRmsPx = Math.Round(pose.ReprojectionRmsPx, 3),
            Bow = pose.Bow,
            Quality = measured.Value.Quality,
            Frame = target.Value.Frame,
            Warnings = [.. photo.Warnings, .. markers.Value.Warnings, .. pose.Warnings, .. PhotoCheck.ViewDoubts(plan, pose, quality), .. target.Value.Warnings, .. measured.Value.Warnings],
        };
        CardPicture? picture = options.WithPictures ? Rectifier.Rectify(photo.Picture, pose with { Pose = target.Value.UprightPose }, plan.Card) : null;
        return new SeenPhoto(record, measured.Value.Cells, measured.Value.BackLit, picture);
    }

    /// <summary>Cells of an engraved card, sides of a cut one in back light, char of a cut one in front light.</summary>
    private static Outcome<Measurement> Measure(Target target, SolvedPose solved, Light? light, PhotoQuality quality, IEnumerable<int> seenMarkers)
    {
        (Picture picture, Plan plan) = (target.Picture, target.Plan);
        CardSurface surface = new(picture, solved.Pose);
        if (plan.Process == Process.Cut && light != Light.Front)
        {
            BackLitView view = SideMeasurer.Measure(surface, solved, plan, quality);
            if (view.IsBackLit && EdgeCheck.CheckBackLit(surface, plan, view) is { } misplaced) return misplaced;
            if (view.IsBackLit)
                return new Measurement(CellMeasurer.Name(plan, solved.Pose), view, quality, PhotoCheck.BackLitDoubts(plan, solved).ToValueList());
            if (light == Light.Back)
                return Refusal.OfPhoto("no-light-behind", "no light comes from behind the card", "lay the card on a light pad or hold it before a lamp, keep some room light in front, and photograph it again");
        }

        if (LightField.Fit(surface, plan, target.IsLighter, seenMarkers) is not { } field)
            return Refusal.OfPhoto("no-bare-material", "too little bare material of the card is in the photo", "take the photo again with the whole card in the frame");
        LineMeasurer? lines = plan.Kind == CardKind.FocusLadder ? LineMeasurer.Of(surface, solved, quality, target.IsLighter) : null;
        MeasuredCell[] measured = CellMeasurer.Measure(surface, field, plan, solved.Pose, lines);
        ValueList<CellReading> cells = measured.Select(cell => cell.Reading).ToValueList();
        if ((lines is null ? EdgeCheck.Check(surface, plan, cells, field) : EdgeCheck.CheckLines(measured, field)) is { } elsewhere) return elsewhere;
        if (PhotoCheck.CheckLight(cells) is { } unusable) return unusable;
        quality = QualityMeter.WithLight(quality, picture, solved.Pose, field, measured);
        return new Measurement(cells, null, quality, PhotoCheck.FrontLitDoubts(plan, field, measured, quality).ToValueList());
    }

    /// <summary>The photos' records; what only all of them together tell stands with the last one concerned.</summary>
    private static ValueList<PhotoRecord> Records(SeenPhoto[] seen, Plan plan, ValueList<CellReading> cells, Light? asked)
    {
        PhotoRecord[] records = [.. seen.Select(photo => photo.Record)];
        Warn(Light.Back, UnseenSpots.Describe(plan, cells));
        Warn(Light.Back, SideTabs.Describe(cells));
        Warn(Light.Front, CellFusion.Disagreement(seen));
        if (plan.Process == Process.Cut && seen.All(photo => photo.BackLit is null)) Warn(Light.Front, asked == Light.Front ? FrontLitAsked : FrontLitOnly);
        return records.ToValueList();

        void Warn(Light light, Warning? warning)
        {
            int last = Array.FindLastIndex(records, record => record.Light == light);
            if (warning is not null && last >= 0) records[last] = records[last] with { Warnings = [.. records[last].Warnings, warning] };
        }
    }

    private static readonly Refusal NoPlan = Refusal.OfInput("plan-not-given", "there is no plan of the card that the photo shows", "give the plan with --plan");

    private static readonly Warning FrontLitOnly = new("front-lit-cut",
        "No photo shows light from behind, so nothing is known of whether the sides are through; only the char beside them was read. Add a photo with a lamp behind the card.");

    /// <summary>Light from behind was not looked for, so nothing may be said of it.</summary>
    private static readonly Warning FrontLitAsked = new("front-lit-cut",
        "The photos were read as lit from the front, as asked for, so nothing is known of whether the sides are through; only the char beside them was read. Leave the light option out where a lamp is behind the card.");

    private sealed record Measurement(ValueList<CellReading> Cells, BackLitView? BackLit, PhotoQuality Quality, ValueList<Warning> Warnings);
}

/// <summary>What one photo tells.</summary>
/// <param name="Record">The photo.</param>
/// <param name="Cells">Its cells; of a back-lit photo only where they are.</param>
/// <param name="BackLit">The sides of its cells; null for a front-lit photo.</param>
/// <param name="Picture">The rectified photo, where it was asked for.</param>
internal sealed record SeenPhoto(PhotoRecord Record, ValueList<CellReading> Cells, BackLitView? BackLit, CardPicture? Picture);
