using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Whether a photo can be measured, and what is doubtful about it. Thresholds: docs/method/photo-check.md.</summary>
internal static class PhotoCheck
{
    /// <summary>Fewest pixels across the smallest cell: its middle 70 % then still has a hundred of them.</summary>
    private const double FewestPxPerCell = 15;

    /// <summary>Most blur, as a share of the smallest cell: beyond it the cell's middle is no longer free of its surroundings.</summary>
    private const double MostBlurShare = 0.06;

    /// <summary>Less plain bare material than this, and the light field follows the blemishes instead.</summary>
    private const double LeastPlainShare = 0.6;

    /// <summary>With this share of the cells at the top of the scale, the few others are close to it too.</summary>
    private const double MostClippedCells = 0.8;

    /// <summary>
    /// Darker than this, bare material has so few codes below it that dark marks come in visible steps, linear luminance.
    /// </summary>
    private const double LeastLuminance = 0.04;

    /// <summary>More noise than this, and the mean of a cell's block (36 pixels) scatters by 2.5 %, 0.011 in darkness.</summary>
    private const double MostNoise = 0.15;

    /// <summary>Two stops: the dark part of the card then has less than half of the codes of the bright part.</summary>
    private const double MostLightRange = 4;

    /// <summary>Bare material that differs with the cell beside it by more than this share of the cell's darkness.</summary>
    private const double MostLocalTone = 0.01;

    private const double SureDeviations = 4;

    /// <summary>
    /// A contrast C under a veil is seen as C/(1 + veil): a tenth too small. Less lies over most photos taken by a window.
    /// </summary>
    private const double MostVeil = 0.1;

    /// <summary>
    /// Blur from which the halo and the cell's edge begin to suffer, as a share of the smallest cell: half of what is
    /// refused.
    /// </summary>
    private const double SoftBlurShare = 0.03;

    /// <summary>MTF50 times the standard deviation of a Gaussian blur: √(ln 2 / 2) / π.</summary>
    private const double Mtf50OfGaussian = 0.18739;

    /// <summary>
    /// One direction this much less sharp than the other: a phone that moved, or a card out of focus with a lens that is
    /// not round.
    /// </summary>
    private const double LeastSharpnessRatio = 0.6;

    /// <summary>A kerf is found in light that spreads over it; with fewer pixels a millimetre it is less than a pixel or two.</summary>
    private const double FewestPxPerMmOfCut = 8;

    /// <summary>Sharpness is known to this, relative (docs/method/photo-check.md, "Sharpness"): a miss within it is none.</summary>
    private const double SharpnessError = 0.06;

    /// <summary>The markers miss their places by more than this where the card is bent, or the photo blurred, mm RMS.</summary>
    private const double DoubtfulResidualMm = 0.08;

    /// <summary>The end of the tilts for which readings are held to account, docs/robustness.md.</summary>
    private const double MostTiltDeg = 35;

    /// <summary>
    /// Bare material that differs this much from place to place, 2 mm wide, is strongly grained: as much as a lamp's field
    /// is let miss.
    /// </summary>
    private const double StrongGrain = 0.06;

    /// <summary>
    /// Flags of cells that are lost, and the warning that tells of each. A cell is told of once, by the first that it has: light
    /// at the top of the scale fits nothing else either.
    /// </summary>
    private static readonly (string Flag, string Code)[] LostCells =
    [
        (CellFlag.Covered, Codes.CellsCovered), (CellFlag.Clipped, Codes.CellsClipped), (CellFlag.Glare, Codes.CellsGlare),
        (CellFlag.OutOfFrame, Codes.CellsOutOfFrame),
    ];

    /// <summary>What sharpness, tilt and the markers' places say of a photo that can be measured.</summary>
    public static IEnumerable<Warning> ViewDoubts(Plan plan, SolvedPose solved, PhotoQuality quality, bool hasPlay)
    {
        Warning? blur = BlurDoubt(plan, quality);
        if (blur is not null) yield return blur;
        double residualMm = solved.ReprojectionRmsPx / solved.PxPerMm;
        if (residualMm > DoubtfulResidualMm)
            yield return new(Codes.PoseResidual, ("blurred", blur is not null ? "yes" : hasPlay ? "play" : "no"),
                ("residual", Mm(residualMm)));
        if (solved.Camera.TiltDeg > MostTiltDeg)
            yield return new(Codes.Tilted, ("tilt", In(Unit.Degrees, solved.Camera.TiltDeg)), ("limit", In(Unit.Degrees, MostTiltDeg)));
    }

    /// <summary>
    /// The spread of edges in millimetres, since that is what a maker sees; two standard deviations of a Gaussian of the
    /// same MTF50.
    /// </summary>
    private static Warning? BlurDoubt(Plan plan, PhotoQuality quality)
    {
        if (quality.Mtf50AcrossXPerMm is not { } x || quality.Mtf50AcrossYPerMm is not { } y) return null;
        double cellMm = SmallestCellMm(plan), mostMm = 2 * SoftBlurShare * cellMm;
        double spreadMm = SpreadMm(Math.Min(x, y));
        if (spreadMm <= mostMm * (1 + SharpnessError)) return null;
        return Math.Min(x, y) < LeastSharpnessRatio * Math.Max(x, y)
            ? new(Codes.MotionBlur, ("spread", Mm(spreadMm)), ("along", x < y ? "x" : "y"), ("across", Mm(SpreadMm(Math.Max(x, y)))),
                ("cell", Mm(cellMm)), ("limit", Mm(mostMm)))
            : new(Codes.Soft, ("spread", Mm(spreadMm)), ("cell", Mm(cellMm)), ("limit", Mm(mostMm)));

        static double SpreadMm(double mtf50PerMm) => 2 * Mtf50OfGaussian / mtf50PerMm;
    }

    /// <summary>True where bare material surely differs with the cells beside it.</summary>
    public static bool IsTonedLocally(Measured tone) => Math.Abs(tone.Value) > Math.Max(MostLocalTone, SureDeviations * tone.StandardError);

    private static double SmallestCellMm(Plan plan) => plan.Cells.Min(cell => Math.Min(cell.WidthMm, cell.HeightMm));

    /// <summary>A reason not to measure, or null.</summary>
    public static Refusal? Check(Picture picture, SolvedPose solved, Plan plan)
    {
        double cellMm = SmallestCellMm(plan);
        double cellPx = cellMm * solved.PxPerMm;
        if (cellPx < FewestPxPerCell)
        {
            return Refusal.OfPhoto(Codes.TooSmall, ("width", In(Unit.Pixels, cellPx)), ("scale", In(Unit.PxPerMm, solved.PxPerMm)),
                ("needed", In(Unit.PxPerMm, FewestPxPerCell / cellMm)));
        }

        if (solved.BlurPx > MostBlurShare * cellPx)
        {
            return Refusal.OfPhoto(Codes.Blurred, ("spread", Mm(2 * solved.BlurPx / solved.PxPerMm)), ("cell", Mm(cellMm)),
                ("limit", Mm(2 * SoftBlurShare * cellMm)));
        }

        return plan.Cells.Any(cell => IsInside(picture, solved.Pose, cell)) ? null : Refusal.OfPhoto(Codes.CellsOutside);
    }

    /// <summary>A reason why none of the measured cells can be used, or null.</summary>
    public static Refusal? CheckLight(ValueList<CellReading> cells)
    {
        if (cells.Count(cell => cell.Flags.Contains(CellFlag.Clipped)) >= MostClippedCells * cells.Count)
            return Refusal.OfPhoto(Codes.Overexposed);
        return cells.All(cell => cell.Flags.Any(CellFlag.IsDisqualifying)) ? Refusal.OfPhoto(Codes.NoUsableCell) : null;
    }

    /// <summary>What to know about a back-lit photo that was measured.</summary>
    public static IEnumerable<Warning> BackLitDoubts(Plan plan, SolvedPose solved)
    {
        if (solved.PxPerMm < FewestPxPerMmOfCut)
            yield return new(Codes.FewPixels, ("scale", In(Unit.PxPerMm, solved.PxPerMm)),
                ("needed", In(Unit.PxPerMm, FewestPxPerMmOfCut)));
        if (plan.Material.ThicknessMm is null) yield return new(Codes.ThicknessMissing);
        if (!solved.Camera.IsFocalKnown) yield return new(Codes.FocalLengthAssumed, ("assumed", Mm(Camera.UsualFocalLength35Mm)));
    }

    /// <summary>What to know about a front-lit photo that was measured.</summary>
    public static IEnumerable<Warning> FrontLitDoubts(Plan plan, LightField light, MeasuredCell[] measured, PhotoQuality quality)
    {
        bool isGrained = light.Grain > StrongGrain;
        if (quality.Noise is { } noise && noise > MostNoise)
            yield return new(Codes.Noisy, ("grained", Is(isGrained)), ("noise", Share(noise)));
        if (quality.LightRange is { } range && range > MostLightRange)
            yield return new(Codes.LightGradient, ("range", In(Unit.Factor, range)));
        if (quality.LocalTone is { } tone && IsTonedLocally(tone))
            yield return new(Codes.LocalTone, ("beside", tone.Value > 0 ? "brighter" : "darker"), ("share", Share(Math.Abs(tone.Value))));
        if (measured.Select(cell => cell.Soot).FirstOrDefault(soot => soot is not null) is { } soot)
            yield return new(Codes.Soot, ("side", soot.Side), ("loss", Share(soot.Loss)));
        double veil = measured.Max(cell => cell.Veiled?.Veil) ?? 0;
        if (veil > MostVeil) yield return new(Codes.Veil, ("veil", Share(veil)));
        CellReading[] cells = [.. measured.Select(cell => cell.Reading)],
            uneven = [.. cells.Where(cell => cell.Flags.Contains(CellFlag.UnevenGround))];
        if (uneven.Length > 0) yield return UnevenGround(plan, uneven, cells.Length, isGrained ? light.Grain : null);
        if (light.PlainShare < LeastPlainShare) yield return new(Codes.UnevenLight, ("share", Share(light.PlainShare)));
        if (light.MeanLuminance < LeastLuminance) yield return new(Codes.Dark, ("level", Share(light.MeanLuminance)));
        foreach ((string flag, string code) in LostCells)
        {
            CellReading[] lost = [.. cells.Where(cell => LossOf(cell) == flag)];
            if (lost.Length > 0) yield return new(code, ("lost", lost.Length), ("all", cells.Length), ("cells", CellNames.Of(plan, lost)));
        }
    }

    private static string? LossOf(CellReading cell) =>
        LostCells.Select(lost => lost.Flag).FirstOrDefault(flag => cell.Flags.Contains(flag));

    private static Warning UnevenGround(Plan plan, CellReading[] uneven, int all, double? grain)
    {
        (string, Figure)[] values = [("uneven", uneven.Length), ("all", all), ("cells", CellNames.Of(plan, uneven))];
        return new(Codes.CellsUnevenGround, grain is { } share ? [.. values, ("grain", Share(share))] : values);
    }

    private static bool IsInside(Picture picture, CardPose pose, Cell cell) =>
        new[] { (0, 0), (1, 0), (1, 1), (0, 1) }.All(corner =>
        {
            PlanePoint at = pose.ToPhoto(new(cell.XMm + corner.Item1 * cell.WidthMm, cell.YMm + corner.Item2 * cell.HeightMm));
            return picture.Contains(at.X, at.Y);
        });
}
