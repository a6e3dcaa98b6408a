using CardScan.Language;
using CardScan.Model;
using ImageMagick;
using OpenCvSharp;
using SkiaSharp;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>How photos are to be measured.</summary>
public sealed record VisionOptions
{
    /// <summary>True to get the rectified pictures too, for a report.</summary>
    public bool WithPictures { get; init; }

    /// <summary>Where the light came from; null lets the photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>The phone's tone curve, which is undone before anything is measured; null takes the photo's codes for sRGB.</summary>
    public CameraResponse? Response { get; init; }

    /// <summary>Why the curve is not known by what could have told it; kept with the photo.</summary>
    public Warning? Doubt { get; init; }
}

/// <summary>Photos and plans to readings: the one entry to this stage.</summary>
/// <remarks>
/// A photo is opened, each card that it shows is measured with the plan of its number, and the views of one card are
/// combined.
/// </remarks>
public static class CardReader
{
    private static readonly Lazy<Task> Prepared = new(() => Task.Run(MarkerFinder.Rehearse));

    /// <summary>
    /// Loads the native library on another thread, while a first photo and its plan are fetched; only the first call does
    /// anything.
    /// </summary>
    /// <returns>What is being done. Where it fails, reading a photo fails in the same way.</returns>
    public static Task Prepare() => Prepared.Value;

    /// <summary>The native libraries that photos are decoded and measured with.</summary>
    public static ValueList<NativePart> NativeParts =>
    [
        new("OpenCV", () => Cv2.GetVersionString() ?? ""),
        new("Skia", () => $"{SkiaSharpVersion.Native}"),
        new("ImageMagick", () => string.Join(' ', MagickNET.ImageMagickVersion.Split(' ').Skip(1).Take(2))),
    ];

    /// <summary>Opens a photo: decodes it and looks for the markers of all cards.</summary>
    /// <param name="photo">The photo; its bytes are not kept.</param>
    /// <returns>The open photo, to be disposed of; or why it cannot be decoded, or shows no card.</returns>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static Outcome<OpenPhoto> Open(PhotoFile photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        Outcome<DecodedPhoto> decoded = PhotoDecoder.Decode(photo.Bytes);
        if (decoded.IsRefused) return decoded.Refusal!;
        Outcome<ValueList<int>> numbers = MarkerFinder.CardNumbers(decoded.Value.Picture);
        if (!numbers.IsRefused) return new OpenPhoto(photo, decoded.Value, numbers.Value);
        decoded.Value.Dispose();
        return numbers.Refusal!;
    }

    /// <summary>A photo made small, to be shown in a list, whether or not it can be measured.</summary>
    /// <param name="photo">The photo.</param>
    /// <returns>The small picture; null where the file shows nothing.</returns>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static SmallPicture? Reduce(PhotoFile photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return PhotoReducer.Reduce(photo.Bytes.Span);
    }

    /// <summary>
    /// Finds the tone curve of each phone by photos of a card that differ in brightness: <see cref="OpenPhoto"/> measures with it and tells
    /// darkness as it was.
    /// </summary>
    /// <param name="views">Views of one card, those among them that tell nothing alone; with whatever curve they were measured.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static PhotoSeries SeriesIn(IReadOnlyList<CardView> views)
    {
        ArgumentNullException.ThrowIfNull(views);
        return PhotoSeries.Of(views);
    }

    /// <summary>What earlier series of a phone let expect of the tone curve of its next photo.</summary>
    /// <param name="series">The curves that its series told, each of another day, with their covariance.</param>
    /// <returns>The curve, to be undone; null where there is no series.</returns>
    /// <exception cref="ArgumentNullException">There is no list.</exception>
    public static CameraResponse? ResponseOfPhone(IReadOnlyList<PhotoResponse> series)
    {
        ArgumentNullException.ThrowIfNull(series);
        return PhoneCurve.Expected(series);
    }

    /// <summary>The tone curve of a photo by a card in it whose darkness is known.</summary>
    /// <param name="seen">That card in the photo, measured without a curve.</param>
    /// <param name="known">A reading of it whose photos were a series, or of one photo: then tones are brought to that photo's.</param>
    /// <returns>
    /// The curve, for the other cards of the photo; or a warning where the card does not look as it did; or neither where it tells too
    /// little.
    /// </returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static (CameraResponse? Response, Warning? Doubt) ResponseBeside(CardView seen, Reading known)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentNullException.ThrowIfNull(known);
        return ToneReference.Find(seen, known);
    }

    /// <summary>Combines what the photos of one card tell.</summary>
    /// <param name="views">At least one; all of the plan's card.</param>
    /// <param name="plan">The plan that they were measured with.</param>
    /// <param name="options">How they were measured.</param>
    /// <param name="series">What they tell of their phones; null for photos that are no series.</param>
    /// <returns>Everything measured, not yet scored; or why nothing of the card was measured.</returns>
    /// <exception cref="ArgumentException">There is no view.</exception>
    public static Outcome<Reading> Combine(IReadOnlyList<CardView> views, PlanFile plan, VisionOptions options, PhotoSeries? series = null)
    {
        ArgumentNullException.ThrowIfNull(views);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(options);
        if (views.Count == 0) throw new ArgumentException("At least one view is needed.", nameof(views));

        ValueList<CellReading> cells = CellFusion.Fuse(plan.Plan, views);
        if (plan.Plan.Process == Process.Cut && views.All(view => view.BackLit is null) && cells.All(cell => cell.HaloMm is null))
            return NothingMeasured(options.Light);
        return new Reading
        {
            Format = Reading.CurrentFormat,
            Plan = plan.Plan,
            PlanSha256 = plan.Sha256,
            Photos = Records(views, plan.Plan, cells, options.Light, series),
            Cells = cells,
            Kerf = SideSummary.KerfOf(cells.Select(cell => cell.Sides).OfType<Sides>()),
        };
    }

    /// <summary>Neither sides nor char: a reading would be empty and pass for one.</summary>
    private static Refusal NothingMeasured(Light? asked) => Refusal.OfPhoto(Codes.NothingMeasured, ("asked", Is(asked == Light.Front)));

    /// <summary>The photos' records; what only all of them together tell stands with the last one concerned.</summary>
    private static ValueList<PhotoRecord> Records(IReadOnlyList<CardView> views, Plan plan, ValueList<CellReading> cells, Light? asked,
        PhotoSeries? series)
    {
        PhotoRecord[] records = [.. views.Select(view => view.Record)];
        Warn(Light.Back, UnseenSpots.Describe(plan, cells));
        Warn(Light.Back, SideTabs.Describe(cells));
        Warn(Light.Front, CellFusion.Disagreement(views));
        if (series is { HasResponse: false, Doubt: { } doubt }) Warn(Light.Front, doubt);
        // Where front light was asked for, light from behind was not looked for, so nothing may be said of it.
        if (plan.Process == Process.Cut && views.All(view => view.BackLit is null))
            Warn(Light.Front, new(Codes.FrontLitCut, ("asked", Is(asked == Light.Front))));
        return records.ToValueList();

        void Warn(Light light, Warning? warning)
        {
            int last = Array.FindLastIndex(records, record => record.Light == light);
            if (warning is not null && last >= 0) records[last] = records[last] with { Warnings = [.. records[last].Warnings, warning] };
        }
    }
}
