using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;

namespace CardScan.Benchmarks;

/// <summary>The stages of reading a card one by one, as <see cref="CardReader"/> runs them.</summary>
internal sealed class Stages(BenchmarkPhoto photo)
{
    private Plan Plan => photo.Plan.Plan;

    public DecodedPhoto Decode() => PhotoDecoder.Decode(photo.Bytes).Value;

    public MarkerSet Find(DecodedPhoto decoded) => MarkerFinder.Find(decoded.Picture, Plan, out _).Value;

    public static ValueList<RefinedMarker> Refine(DecodedPhoto decoded, MarkerSet found) => MarkerRefiner.Refine(decoded.Picture, found);

    public SolvedPose Solve(DecodedPhoto decoded, ValueList<RefinedMarker> refined) =>
        PoseSolver.Solve(decoded.Picture, refined, Plan, decoded.Shot.FocalLength35Mm).Value;

    /// <summary>The light with its veils, which are made when they are asked for.</summary>
    public LightField Light(CardSurface surface)
    {
        LightField light = LightField.Fit(surface, Plan, isInverted: false, [0, 1, 2, 3])!;
        light.VeilAt(default);
        return light;
    }

    public BackLitView Sides(DecodedPhoto decoded, ValueList<RefinedMarker> refined, CardSurface surface, SolvedPose solved) =>
        SideMeasurer.Measure(surface, solved, Plan, QualityMeter.Of(decoded.Picture, refined, solved.PxPerMm));

    public Refusal? CheckSides(CardSurface surface, BackLitView view) => EdgeCheck.CheckBackLit(surface, Plan, view);

    public MeasuredCell[] Cells(CardSurface surface, LightField light, SolvedPose solved) =>
        CellMeasurer.Measure(surface, light, Plan, solved.Pose);

    public static PhotoQuality Check(DecodedPhoto decoded, ValueList<RefinedMarker> refined, SolvedPose solved, LightField light,
        MeasuredCell[] cells) =>
        QualityMeter.WithLight(QualityMeter.Of(decoded.Picture, refined, solved.PxPerMm), decoded.Picture, solved.Pose, light, cells,
            response: null);

    public static CardSurface Surface(DecodedPhoto decoded, SolvedPose solved) => new(decoded.Picture, solved.Pose);

    /// <summary>All of Vision, through its one public entry.</summary>
    public Reading Read() => OneCard.Read([new PhotoFile(photo.Name, photo.Bytes)], photo.Plan, new VisionOptions()).Value.Reading;

    public static Reading Score(Reading reading) => CardScorer.Score(reading, ScoringOptions.Default);
}
