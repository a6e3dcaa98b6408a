using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The bare material around one cell, carried to the cell's place.</summary>
/// <param name="Rgb">What bare material would look like where the cell is.</param>
/// <param name="LogExcess">How far it stands above the card's light field, natural log.</param>
/// <param name="LogError">Standard error of its level by the scatter of its sides, natural log.</param>
/// <param name="LogScatter">Standard deviation of the four sides' levels, natural log.</param>
/// <param name="ClippedShare">Share of it at the top of the photo's scale.</param>
internal sealed record BareReference(LinearRgb Rgb, double LogExcess, double LogError, double LogScatter, double ClippedShare)
{
    private const int SamplesPerPatchSide = 6;

    /// <summary>Sides of the frame that disagree by more than this have an edge between them, natural log.</summary>
    private const double UnevenScatter = 0.15;

    /// <summary>Reach of the biweight in standard deviations: narrower than usual, since labels and char are common here.</summary>
    private const double NarrowReach = 3.5;

    /// <summary>
    /// Sides that disagree by chance are independent, and their mean is better than each. An edge of light between them is
    /// no chance: the level under the cell may be that of either side of it, and the cell's too, anywhere in their range
    /// (range/√12 each, uniform distribution).
    /// </summary>
    private static readonly double EdgeShare = Math.Sqrt(2.0 / 12);

    /// <summary>
    /// Four values of one deviation lie farther apart than this many of it once in twenty times: the studentized range's
    /// q(0.05; 4, ∞).
    /// </summary>
    private const double RangeByGrain = 3.63;

    /// <summary>No field fits perfectly: sides may be off by 0.06 either way (<see cref="LightField"/>), natural log.</summary>
    private const double RangeByField = 0.12;

    /// <summary>Distance between the highest and the lowest of the four sides' levels as they are, natural log.</summary>
    private double SideRange { get; init; }

    /// <summary>
    /// Standard deviation of the four sides' levels as they are, natural log: the grain, as a place of a cell's size has
    /// it.
    /// </summary>
    public double SideScatter { get; private init; }

    /// <summary>True where the sides of the frame disagree: the edge of a shadow, a knot, or dirt.</summary>
    public bool IsUneven => LogScatter > UnevenScatter;

    /// <summary>Judges the bare material in a frame around a cell.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="light">Its light field.</param>
    /// <param name="cell">The cell.</param>
    /// <param name="fromMm">Inner edge of the frame, mm outside the cell.</param>
    /// <param name="toMm">Outer edge, mm outside the cell.</param>
    /// <returns>The reference, or null where too little of it is in the photo.</returns>
    public static BareReference? Around(CardSurface surface, LightField light, Cell cell, double fromMm, double toMm)
    {
        Patch[][] ring = Ring(surface, cell, fromMm, toMm);
        if (ring.Count(side => side.Length > 0) < 2) return null;
        Patch[] patches = [.. ring.SelectMany(side => side)];
        double[] excess = [.. patches.Select(patch => patch.LogLuminance - light.LogLuminanceAt(patch.Centre))];
        double[] weights = PlainWeights(excess, light.Scatter);
        double level = Robust.Mean(excess, weights);

        PlanePoint centre = new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);
        double logLevel = light.LogLuminanceAt(centre) + level;
        LinearRgb colour = MeanColour(patches, weights);
        double[] sides = [.. ring.Where(side => side.Length > 0).Select(side => SideLevel(side, light, patches, weights))
            .Where(double.IsFinite)];
        double scatter = sides.Length < 2 ? light.Scatter : Math.Sqrt(Robust.Variance(sides));

        // The weights outvote what lies beyond an edge of light, so the edge is looked for in the sides as they are.
        double[] asSeen = [.. ring.Where(side => side.Length > 0)
            .Select(side => Robust.Median(side.Select(patch => patch.LogLuminance - light.LogLuminanceAt(patch.Centre))))];
        double seenScatter = Math.Sqrt(Robust.Variance(asSeen));
        return new(
            colour * (Math.Exp(logLevel) / colour.Luminance),
            level,
            scatter / Math.Sqrt(Math.Max(1, sides.Length)),
            Math.Max(scatter, seenScatter),
            patches.Average(patch => patch.ClippedShare)) { SideScatter = seenScatter, SideRange = asSeen.Max() - asSeen.Min() };
    }

    /// <summary>Standard error of the level, natural log, with what an edge of light may do to it.</summary>
    /// <param name="grain">Standard deviation of the sides of a cell's frame by grain, as the whole card tells it, natural log.</param>
    public double LogErrorIn(double grain)
    {
        double byChance = Math.Max(RangeByGrain * grain, RangeByField);
        double byEdge = EdgeShare * Math.Sqrt(Math.Max(0, SideRange * SideRange - byChance * byChance));
        return Math.Max(Math.Max(LogError, GrainHere(grain) / 2), byEdge);
    }

    /// <summary>
    /// Standard deviation of bare material from side to side just here, natural log, never less than the card's: four sides tell
    /// it badly, so the card's counts as those of three cells beside them.
    /// </summary>
    public double GrainHere(double grain) => Math.Sqrt((3 * grain * grain + Math.Max(grain * grain, SideScatter * SideScatter)) / 4);

    /// <summary>A frame around the cell, side by side (top, right, bottom, left), in patches about as long as it is wide.</summary>
    private static Patch[][] Ring(CardSurface surface, Cell cell, double fromMm, double toMm)
    {
        double depth = toMm - fromMm;
        double left = cell.XMm - toMm, top = cell.YMm - toMm;
        double right = cell.XMm + cell.WidthMm + fromMm, bottom = cell.YMm + cell.HeightMm + fromMm;
        double across = cell.WidthMm + toMm + fromMm, down = cell.HeightMm + toMm + fromMm;
        return
        [
            Strip(left, top, across, depth, isAcross: true),
            Strip(right, top, depth, down, isAcross: false),
            Strip(left + depth, bottom, across, depth, isAcross: true),
            Strip(left, top + depth, depth, down, isAcross: false),
        ];

        Patch[] Strip(double x, double y, double width, double height, bool isAcross)
        {
            int count = Math.Max(2, (int)Math.Round((isAcross ? width : height) / Math.Max(depth, 0.5)));
            double patchWidth = isAcross ? width / count : width, patchHeight = isAcross ? height : height / count;
            return [.. Enumerable.Range(0, count)
                .Select(i => surface.Mean(isAcross ? x + patchWidth * i : x, isAcross ? y : y + patchHeight * i, patchWidth, patchHeight,
                    SamplesPerPatchSide))
                .Where(patch => patch.SeenShare == 1)];
        }
    }

    /// <summary>
    /// Weights of Tukey's biweight about the ring's own centre: a label's strokes, char and a neighbour's halo are
    /// outliers, the grain is not.
    /// </summary>
    private static double[] PlainWeights(double[] excess, double grain)
    {
        double centre = Robust.Median(excess);
        double[] weights = new double[excess.Length];
        for (int round = 0; round < 8; round++)
        {
            double reach = NarrowReach * Math.Max(Robust.Deviation(excess, centre), 0.5 * grain);
            for (int i = 0; i < excess.Length; i++) weights[i] = Robust.Biweight(excess[i] - centre, reach);
            centre = Robust.Mean(excess, weights);
        }

        return weights;
    }

    private static double SideLevel(Patch[] side, LightField light, Patch[] patches, double[] weights)
    {
        double sum = 0, total = 0;
        foreach (Patch patch in side)
        {
            double weight = weights[Array.IndexOf(patches, patch)];
            sum += weight * (patch.LogLuminance - light.LogLuminanceAt(patch.Centre));
            total += weight;
        }

        return total > 0 ? sum / total : double.NaN;
    }

    private static LinearRgb MeanColour(Patch[] patches, double[] weights)
    {
        LinearRgb sum = default;
        for (int i = 0; i < patches.Length; i++) sum += patches[i].Rgb * weights[i];
        return sum * (1 / weights.Sum());
    }
}
