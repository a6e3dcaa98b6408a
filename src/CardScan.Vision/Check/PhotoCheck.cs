using CardScan.Model;

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

    /// <summary>Darker than this, bare material has so few codes below it that dark marks come in visible steps, linear luminance.</summary>
    private const double LeastLuminance = 0.04;

    /// <summary>More noise than this, and the mean of a cell's block (36 pixels) scatters by 2.5 %, 0.011 in darkness.</summary>
    private const double MostNoise = 0.15;

    /// <summary>Two stops: the dark part of the card then has less than half of the codes of the bright part.</summary>
    private const double MostLightRange = 4;

    /// <summary>Bare material that differs with the cell beside it by more than this share of the cell's darkness.</summary>
    private const double MostLocalTone = 0.01;

    private const double SureDeviations = 4;

    /// <summary>A contrast C under a veil is seen as C/(1 + veil): a tenth too small. Less lies over most photos taken by a window.</summary>
    private const double MostVeil = 0.1;

    /// <summary>Blur from which the halo and the cell's edge begin to suffer, as a share of the smallest cell: half of what is refused.</summary>
    private const double SoftBlurShare = 0.03;

    /// <summary>MTF50 times the standard deviation of a Gaussian blur: √(ln 2 / 2) / π.</summary>
    private const double Mtf50OfGaussian = 0.18739;

    /// <summary>One direction this much less sharp than the other: a phone that moved, or a card out of focus with a lens that is not round.</summary>
    private const double LeastSharpnessRatio = 0.6;

    /// <summary>A kerf is found in light that spreads over it; with fewer pixels a millimetre it is less than a pixel or two.</summary>
    private const double FewestPxPerMmOfCut = 8;

    /// <summary>Sharpness is known to this, relative (docs/method/photo-check.md, "Sharpness"): a miss within it is none.</summary>
    private const double SharpnessError = 0.06;

    /// <summary>The markers miss their places by more than this where the card is bent, or the photo blurred, mm RMS.</summary>
    private const double DoubtfulResidualMm = 0.08;

    /// <summary>The end of the tilts for which readings are held to account, docs/robustness.md.</summary>
    private const double MostTiltDeg = 35;

    /// <summary>Bare material that differs this much from place to place, 2 mm wide, is strongly grained: as much as a lamp's field is let miss.</summary>
    private const double StrongGrain = 0.06;

    /// <summary>What sharpness, tilt and the markers' places say of a photo that can be measured.</summary>
    public static IEnumerable<Warning> ViewDoubts(Plan plan, SolvedPose solved, PhotoQuality quality)
    {
        Warning? blur = BlurDoubt(plan, quality);
        if (blur is not null) yield return blur;
        double residualMm = solved.ReprojectionRmsPx / solved.PxPerMm;
        if (residualMm > DoubtfulResidualMm)
        {
            yield return new("pose-residual", $"The markers miss their planned places by {residualMm:F2} mm (RMS), so cells may lie beside where they were measured: " + (blur is null
                ? "the card is bent. Lay it flat, weigh its edges down, and take the photo again."
                : "most likely because of the blur. Take a sharp photo, with the card flat."));
        }

        if (solved.Camera.TiltDeg > MostTiltDeg)
            yield return new("tilted", $"The photo is taken {solved.Camera.TiltDeg:F0}° from straight above, and up to {MostTiltDeg:F0}° is well measured: places and light are less certain. Hold the phone over the card's middle, and take the photo again.");
    }

    /// <summary>The spread of edges in millimetres, since that is what a maker sees; two standard deviations of a Gaussian of the same MTF50.</summary>
    private static Warning? BlurDoubt(Plan plan, PhotoQuality quality)
    {
        if (quality.Mtf50AcrossXPerMm is not { } x || quality.Mtf50AcrossYPerMm is not { } y) return null;
        double cellMm = SmallestCellMm(plan), mostMm = 2 * SoftBlurShare * cellMm;
        double spreadMm = SpreadMm(Math.Min(x, y));
        if (spreadMm <= mostMm * (1 + SharpnessError)) return null;
        return Math.Min(x, y) < LeastSharpnessRatio * Math.Max(x, y)
            ? new("motion-blur", $"The photo is blurred over {spreadMm:F2} mm {(x < y ? "from left to right" : "from top to bottom")} of the card, and only {SpreadMm(Math.Max(x, y)):F2} mm the other way; cells of {cellMm:0.#} mm allow {mostMm:F2} mm. The phone moved: rest it on something, or give more light, and take the photo again.")
            : new("soft", $"The photo is soft: edges are spread over {spreadMm:F2} mm, and cells of {cellMm:0.#} mm allow {mostMm:F2} mm. Wipe the lens, let the phone focus on the card, and take the photo again.");

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
            return Refusal.OfPhoto("too-small", $"a cell is only {cellPx:F0} pixels wide ({solved.PxPerMm:F1} px/mm)", $"take the photo again from closer, or with a camera of more pixels: at least {FewestPxPerCell / cellMm:F1} px/mm are needed");
        if (solved.BlurPx > MostBlurShare * cellPx)
            return Refusal.OfPhoto("blurred", $"the photo is blurred: edges are spread over {2 * solved.BlurPx / solved.PxPerMm:F2} mm, and cells of {cellMm:0.#} mm want {2 * SoftBlurShare * cellMm:F2} mm or less", "hold the phone still, let it focus on the card, give more light, and take the photo again");
        if (!plan.Cells.Any(cell => IsInside(picture, solved.Pose, cell)))
            return Refusal.OfPhoto("cells-outside", "no cell of the card is wholly inside the photo", "take the photo again with the whole card in the frame");
        return null;
    }

    /// <summary>A reason why none of the measured cells can be used, or null.</summary>
    public static Refusal? CheckLight(ValueList<CellReading> cells)
    {
        if (cells.Count(cell => cell.Flags.Contains(CellFlag.Clipped)) >= MostClippedCells * cells.Count)
            return Refusal.OfPhoto("overexposed", "the photo is too bright: bare material is plain white, at the top of the photo's scale, nearly all over the card", "tap the card on the phone's screen, slide the exposure down by one stop (−1 EV), half of the light, and take the photo again; if that is refused, by another, since a white picture cannot tell how much too bright it is");
        return cells.All(cell => cell.Flags.Any(CellFlag.IsDisqualifying))
            ? Refusal.OfPhoto("no-usable-cell", "every cell lies under a reflection, at the top of the photo's scale, or outside the photo", "take the photo again in soft, even light without reflections, with the whole card in the frame")
            : null;
    }

    /// <summary>What to know about a back-lit photo that was measured.</summary>
    public static IEnumerable<Warning> BackLitDoubts(Plan plan, SolvedPose solved)
    {
        if (solved.PxPerMm < FewestPxPerMmOfCut)
            yield return new("few-pixels", $"The photo has {solved.PxPerMm:F1} px/mm; kerfs of a few tenths of a millimetre want {FewestPxPerMmOfCut:F0} or more. Let the card fill the frame, and give the photo as the phone saved it, not one sent through a messenger.");
        if (plan.Material.ThicknessMm is null)
            yield return new("thickness-missing", "The plan does not give the material's thickness, so nobody can tell from where light could have been seen: dark sides stay unseen. Add material.thicknessMm to the plan.");
        if (!solved.Camera.IsFocalKnown)
            yield return new("focal-length-assumed", "The photo does not tell its focal length, so a phone's usual 26 mm equivalent was assumed: viewing angles, and with them which dark sides were judged, are less certain. Give the photo as the phone saved it.");
    }

    /// <summary>What to know about a front-lit photo that was measured.</summary>
    public static IEnumerable<Warning> FrontLitDoubts(Plan plan, LightField light, MeasuredCell[] measured, PhotoQuality quality)
    {
        CellReading[] cells = [.. measured.Select(cell => cell.Reading)];
        bool isGrained = light.Grain > StrongGrain;
        if (quality.Noise > MostNoise)
            yield return new("noisy", $"Neighbouring pixels of bare material differ by {quality.Noise:P0}: {(isGrained ? "the material is strongly grained, or the photo noisy" : "the photo is noisy")}. The errors of the cells include it; more light makes a better photo{(isGrained ? ", and larger cells a better card" : "")}.");
        if (quality.LightRange > MostLightRange)
            yield return new("light-gradient", $"The light on one part of the card is {quality.LightRange:F1} times that on another, so the dark part has few steps left. Put the lamp farther away, or photograph the card by a window.");
        if (quality.LocalTone is { } tone && IsTonedLocally(tone))
            yield return new("local-tone", tone.Value > 0
                ? $"Bare material is brighter beside dark cells than elsewhere ({tone.Value:P0} of their darkness): the phone tones places of the picture apart, and darkness is too small. Switch off HDR, night mode and filters."
                : $"Bare material is darker beside dark cells than elsewhere ({-tone.Value:P0} of their darkness): soot lies around them, or the phone tones places of the picture apart. Wipe the card, and switch off HDR and filters.");
        if (measured.Select(cell => cell.Soot).FirstOrDefault(soot => soot is not null) is { } soot)
            yield return new("soot", $"Bare material is darker to the {soot.Side} of the cells than on their other sides, by {soot.Loss:P0} on average, all over the card: that is soot, which wipes off, and no scorch. Halos were measured on the cleaner sides. Wipe the card before it is photographed; masking tape, or extraction from the other side, keeps soot away.");
        double veil = measured.Max(cell => cell.Veiled?.Veil) ?? 0;
        if (veil > MostVeil)
            yield return new("veil", $"A wide reflection may lie over the card, with up to {veil:P0} of bare material's light: dark marks under it are measured too light, and their errors are larger for it. Turn the card or the lamp until no lamp or window is mirrored in it, and take the photo again.");
        CellReading[] uneven = [.. cells.Where(cell => cell.Flags.Contains(CellFlag.UnevenGround))];
        if (uneven.Length > 0)
        {
            yield return new("cells-uneven-ground", $"Beside {uneven.Length} of {cells.Length} cells bare material disagrees, and errors are larger there: {CellNames.List(plan, uneven)}. " + (isGrained
                ? $"The material is strongly grained (it differs by {light.Grain:P0} from place to place), which no photo mends; the edge of a shadow, a knot or dirt would do it too."
                : "The edge of a shadow, a knot, or dirt: use soft light without shadows."));
        }

        if (light.PlainShare < LeastPlainShare)
            yield return new("uneven-light", $"Only {light.PlainShare:P0} of the bare material fits one smooth light: shadows, glare or stains lie over the card. Use even, soft light, and take the photo again.");
        if (light.MeanLuminance < LeastLuminance)
            yield return new("dark", $"The photo is dark: bare material reaches {light.MeanLuminance:P1} of its scale, where steps are coarse. Give more light.");
        foreach ((string flag, string where, string cure) in new[]
        {
            (CellFlag.Glare, "in light that does not fit the rest of the card, a reflection or the edge of a shadow", "turn the card or the lamp until the light is even"),
            (CellFlag.Clipped, "at the top of the photo's scale", "slide the exposure down a little"),
            (CellFlag.OutOfFrame, "not wholly inside the photo", "keep all of it in the frame"),
        })
        {
            CellReading[] lost = [.. cells.Where(cell => cell.Flags.Contains(flag))];
            if (lost.Length > 0)
                yield return new($"cells-{flag}", $"{lost.Length} of {cells.Length} cells {(lost.Length == 1 ? "is" : "are")} {where}, and left out: {CellNames.List(plan, lost)}. To have them too, {cure}, and photograph the card again.");
        }
    }

    private static bool IsInside(Picture picture, CardPose pose, Cell cell) =>
        new[] { (0, 0), (1, 0), (1, 1), (0, 1) }.All(corner =>
        {
            PlanePoint at = pose.ToPhoto(new(cell.XMm + corner.Item1 * cell.WidthMm, cell.YMm + corner.Item2 * cell.HeightMm));
            return picture.Contains(at.X, at.Y);
        });
}
