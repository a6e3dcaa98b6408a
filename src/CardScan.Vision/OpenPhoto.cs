using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A photo that is decoded, and whose cards are known by their markers; it holds the picture until it is disposed of.</summary>
/// <remarks>
/// Made by <see cref="CardReader.Open"/>. Each card that it shows is measured with the plan that the caller has for its
/// number.
/// </remarks>
public sealed class OpenPhoto : IDisposable
{
    private readonly DecodedPhoto _photo;

    internal OpenPhoto(PhotoFile file, DecodedPhoto photo, ValueList<int> cardNumbers) =>
        (_photo, Name, Sha256, CardNumbers) = (photo, file.Name, CardJson.Sha256(file.Bytes.Span), cardNumbers);

    /// <summary>Its file's name.</summary>
    public string Name { get; }

    /// <summary>Fingerprint of its bytes.</summary>
    public string Sha256 { get; }

    /// <summary>True where it is raw: light as the sensor saw it, which no tone curve has bent.</summary>
    public bool IsRaw => _photo.Picture.IsRaw;

    /// <summary>The phone that took it; null where the file does not say.</summary>
    public PhotoCamera? Camera => _photo.Shot.Camera;

    /// <summary>
    /// The numbers of the cards that it shows; one or more. A single marker counts only where nothing else is seen.
    /// </summary>
    public ValueList<int> CardNumbers { get; }

    /// <summary>
    /// The corners of the card that was measured last, also where it was refused; those that are missing only where the others
    /// tell where they should be.
    /// </summary>
    public ValueList<CardCorner> Corners { get; private set; } = [];

    /// <summary>
    /// What it tells of the card that was measured last beside other photos of it, where it was refused because no cell can be used by
    /// itself; else null.
    /// </summary>
    public CardView? Aside { get; private set; }

    /// <summary>Measures the card of a plan in the photo.</summary>
    /// <param name="plan">The plan that the card was burned from.</param>
    /// <param name="options">How to measure.</param>
    /// <returns>What the photo tells of the card; or why it cannot be measured, and what to do.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public Outcome<CardView> Measure(Plan plan, VisionOptions options)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(options);
        if (plan.Process == Process.Engrave && options.Light == Light.Back)
            return Refusal.OfInput(Codes.EngravedBackLit);
        Aside = null;
        Outcome<MarkerSet> markers = MarkerFinder.Find(_photo.Picture, plan, out SeenMarker[] seen);
        Corners = SeenCorners.Of(_photo.Picture, plan, seen);
        if (markers.IsRefused) return markers.Refusal!;

        ValueList<RefinedMarker> refined = MarkerRefiner.Refine(_photo.Picture, markers.Value);
        Outcome<SolvedPose> solved = PoseSolver.Solve(_photo.Picture, refined, plan, _photo.Shot.FocalLength35Mm);
        if (solved.IsRefused) return solved.Refusal!;
        if (CoverOf(solved.Value.Pose, plan.Card, markers.Value.Others) is { } covered) return covered;
        if (DrawnPicture.Check(new(_photo.Picture, solved.Value.Pose), plan) is { } drawn) return drawn;
        // A drawing's own edges run along its rows too.
        if (_photo.IsStepped) return PhotoDecoder.Damaged;
        if (PhotoCheck.Check(_photo.Picture, solved.Value, plan) is { } refusal) return refusal;

        CameraResponse? undone = IsRaw ? null : options.Response;
        Picture picture = undone is null ? _photo.Picture : _photo.Picture.Through(undone.Undo, undone.Doubts());
        SolvedPose pose = CardBendEstimator.Correct(_photo.Picture, refined, solved.Value, plan);
        PhotoQuality quality = QualityMeter.Of(_photo.Picture, refined, pose.PxPerMm);
        Outcome<Target> target = FramedGrid.Find(picture, pose.Pose, plan, markers.Value.IsInverted);
        if (target.IsRefused) return target.Refusal!;
        Outcome<Measurement> measured = Measure(target.Value, pose with { Pose = target.Value.Pose }, options, quality,
            refined.Select(marker => marker.Place));
        if (measured.IsRefused) return measured.Refusal!;
        ValueList<Warning> play = MachinePlay.Of(new(target.Value.Picture, target.Value.Pose), target.Value.Plan, quality);
        PhotoRecord record = new()
        {
            File = Name,
            Sha256 = Sha256,
            Taken = _photo.Shot.Taken,
            Camera = _photo.Shot.Camera,
            Exposure = _photo.Shot.Exposure,
            Response = IsRaw ? new(PhotoResponse.Raw, []) : undone?.Record,
            Light = measured.Value.BackLit is null ? Light.Front : Light.Back,
            WidthPx = _photo.Picture.Width,
            HeightPx = _photo.Picture.Height,
            PxPerMm = Math.Round(pose.PxPerMm, 2),
            TiltDeg = Math.Round(pose.Camera.TiltDeg, 1),
            ReprojectionRmsPx = Math.Round(pose.ReprojectionRmsPx, 3),
            Bow = pose.Bow,
            Quality = measured.Value.Quality,
            Frame = target.Value.Frame,
            Warnings = [.. _photo.Warnings, .. markers.Value.Warnings, .. pose.Warnings,
                .. PhotoCheck.ViewDoubts(plan, pose, quality, hasPlay: play.Count > 0), .. play, .. target.Value.Warnings,
                .. measured.Value.Warnings, .. options.Doubt is { } doubt ? [doubt] : (Warning[])[]],
        };
        CardView view = new(record, measured.Value.Cells, measured.Value.BackLit)
        {
            Tones = new(AsSeen(measured.Value.Tones, undone), _photo.Shot, plan.Card),
        };
        if (measured.Value.BackLit is null && PhotoCheck.CheckLight(view.Cells) is { } unusable)
        {
            Aside = view;
            return unusable;
        }

        return options.WithPictures
            ? view with { Picture = Rectifier.Rectify(_photo.Picture, pose with { Pose = target.Value.UprightPose }, plan.Card) }
            : view;
    }

    /// <summary>The cells' light as the photo's codes give it by sRGB, whatever curve was undone.</summary>
    private static ValueList<CellTone?> AsSeen(ValueList<CellTone?> tones, CameraResponse? response) => response is null
        ? tones
        : tones.Select(tone => tone is { } each
            ? each with { Mark = response.Redo(each.Mark), Bare = response.Redo(each.Bare) }
            : (CellTone?)null).ToValueList();

    /// <summary>Another card that lies on this one, or under it; null where none does.</summary>
    private static Refusal? CoverOf(CardPose pose, CardSize card, ValueList<(int Card, PlanePoint Middle)> others)
    {
        foreach ((int other, PlanePoint middle) in others)
        {
            PlanePoint at = pose.ToCard(middle);
            if (at.X >= 0 && at.Y >= 0 && at.X <= card.WidthMm && at.Y <= card.HeightMm)
                return Refusal.OfPhoto(Codes.CardsOverlap, ("other", other));
        }

        return null;
    }

    /// <summary>Cells of an engraved card, sides of a cut one in back light, char of a cut one in front light.</summary>
    private static Outcome<Measurement> Measure(Target target, SolvedPose solved, VisionOptions options, PhotoQuality quality,
        IEnumerable<int> seenMarkers)
    {
        Light? light = options.Light;
        (Picture picture, Plan plan) = (target.Picture, target.Plan);
        CardSurface surface = new(picture, solved.Pose);
        if (plan.Process == Process.Cut && light != Light.Front)
        {
            BackLitView view = SideMeasurer.Measure(surface, solved, plan, quality);
            if (view.IsBackLit && EdgeCheck.CheckBackLit(surface, plan, view) is { } misplaced) return misplaced;
            if (view.IsBackLit)
            {
                ValueList<Warning> doubts = PhotoCheck.BackLitDoubts(plan, solved).ToValueList();
                return new Measurement(CellMeasurer.Name(plan, solved.Pose), view, quality, doubts);
            }
            if (light == Light.Back) return Refusal.OfPhoto(Codes.NoLightBehind);
        }

        if (LightField.Fit(surface, plan, target.IsLighter, seenMarkers) is not { } field)
            return Refusal.OfPhoto(Codes.NoBareMaterial);
        LineMeasurer? lines = plan.Kind == CardKind.FocusLadder ? LineMeasurer.Of(surface, solved, quality, target.IsLighter) : null;
        MeasuredCell[] measured = CellMeasurer.Measure(surface, field, plan, solved.Pose, lines);
        ValueList<CellReading> cells = measured.Select(cell => cell.Reading).ToValueList();
        if ((lines is null ? EdgeCheck.Check(surface, plan, cells, field) : EdgeCheck.CheckLines(measured, field)) is { } elsewhere)
            return elsewhere;
        quality = QualityMeter.WithLight(quality, picture, solved.Pose, field, measured, options.Response);
        return new Measurement(cells, null, quality, PhotoCheck.FrontLitDoubts(plan, field, measured, quality).ToValueList())
        {
            Tones = measured.Select(cell => cell.Tone).ToValueList(),
        };
    }

    /// <summary>Lets the picture go.</summary>
    public void Dispose() => _photo.Dispose();

    private sealed record Measurement(ValueList<CellReading> Cells, BackLitView? BackLit, PhotoQuality Quality,
        ValueList<Warning> Warnings)
    {
        public ValueList<CellTone?> Tones { get; init; } = [];
    }
}
