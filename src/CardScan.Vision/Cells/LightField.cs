using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// How light falls across the card: the luminance of bare material, as a smooth field fitted to the strips between the
/// cells.
/// </summary>
/// <remarks>
/// A cubic in x and y of the logarithm, so that shading multiplies. Fitted with Tukey's biweight, starting from least
/// absolute residuals: labels, halos, shadows and glare are outvoted as long as most of the strips are plain.
/// See docs/method, "Light".
/// </remarks>
internal sealed class LightField
{
    private const int Terms = 10;

    /// <summary>Side of a patch, mm, and of the least in a narrow grid, whose strips would hold none of the usual ones.</summary>
    private const double UsualPatchMm = 2, LeastPatchMm = 0.5;

    /// <summary>Grids with gaps of this much or more have room for the usual patches, mm.</summary>
    private const double UsualGapMm = 5;

    private const int SamplesPerPatchSide = 6;

    /// <summary>Distance kept from cells and markers, where char spreads, and from the card's rim, mm.</summary>
    private const double ClearanceMm = 1;

    /// <summary>A patch that differs this much from bare material, the way burning does, is burned; natural log.</summary>
    private const double LeastBurnedLog = 0.3;

    /// <summary>A patch that differs by less than this from the field counts as plain, natural log: no field fits perfectly.</summary>
    private const double LeastMissLog = 0.06;

    private readonly double[] _coefficients;
    private readonly CardSize _card;

    private Lazy<VeilingGlareField>? _veil;
    private Lazy<MarkerMark[]> _markers = new([]);

    private Patch[] _patches = [];
    private double _patchMm;

    private LightField(double[] coefficients, CardSize card, double scatter) =>
        (_coefficients, _card, Scatter) = (coefficients, card, scatter);

    /// <summary>Standard deviation of plain patches about the field, in natural-log units: the material's grain.</summary>
    public double Scatter { get; }

    /// <summary>
    /// Standard deviation of bare material from patch to patch, natural log, along the axis that crosses more of its grain:
    /// second differences, to which slopes of the light are nothing, and edges of shadows few.
    /// </summary>
    public double Grain => Math.Max(Along(patch => patch.Centre.X, patch => patch.Centre.Y),
        Along(patch => patch.Centre.Y, patch => patch.Centre.X));

    /// <summary>Share of the strips that the field describes, 0 to 1; little means that it describes nothing.</summary>
    public double PlainShare { get; private init; }

    /// <summary>
    /// Share of the strips between the cells that look burned, 0 to 1: none should; some say that cells lie where the plan
    /// has none.
    /// </summary>
    public double MarkedShare { get; private init; }

    /// <summary>Share of the strips between the cells that are brighter than the field explains, 0 to 1: reflections.</summary>
    public double BrightShare { get; private init; }

    /// <summary>Share of the strips between the cells that are darker than the field explains, 0 to 1: shadows, stains, char.</summary>
    public double DarkShare { get; private init; }

    /// <summary>Share of the bare material at the top of the photo's scale, 0 to 1.</summary>
    public double ClippedShare { get; private init; }

    /// <summary>Places of bare material, for whoever wants to look at it closer, mm.</summary>
    public ValueList<PlanePoint> BareCentres { get; private init; } = [];

    /// <summary>Those of them that lie between the cells, mm.</summary>
    public ValueList<PlanePoint> BetweenCells { get; private init; } = [];

    /// <summary>Brightest over darkest light where bare material is; 1 is even.</summary>
    public double Range { get; private init; }

    /// <summary>What the markers that are seen show.</summary>
    public IReadOnlyList<MarkerMark> Markers => _markers.Value;

    /// <summary>Luminance of the bare material in the middle of the card, 0 to 1.</summary>
    public double MeanLuminance => Math.Exp(LogLuminanceAt(new(_card.WidthMm / 2, _card.HeightMm / 2)));

    /// <summary>Natural logarithm of the bare material's luminance at a point of the card.</summary>
    public double LogLuminanceAt(PlanePoint cardMm)
    {
        double x = 2 * cardMm.X / _card.WidthMm - 1, y = 2 * cardMm.Y / _card.HeightMm - 1;
        double[] c = _coefficients;
        return c[0] + x * (c[1] + x * (c[3] + x * c[6] + y * c[7]) + y * (c[4] + y * c[8])) + y * (c[2] + y * (c[5] + y * c[9]));
    }

    /// <summary>Mirrored light that may lie over a point of the card, as a share of what bare material sends: a wide reflection.</summary>
    public double VeilAt(PlanePoint cardMm) => _veil?.Value.At(LogLuminanceAt(cardMm), Basis(cardMm, _card)) ?? 0;

    /// <summary>Fits the field.</summary>
    /// <returns>The field, or null where too little bare material is in the photo.</returns>
    /// <param name="surface">The card.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="isInverted">True where burning makes the material lighter.</param>
    /// <param name="seenMarkers">Places of the markers that the photo shows; without any, less is known of a veil.</param>
    public static LightField? Fit(CardSurface surface, Plan plan, bool isInverted, IEnumerable<int> seenMarkers)
    {
        double patchMm = PatchMm(Gap.BetweenCells(plan));
        Patch[] patches = [.. BarePatches(surface, plan, patchMm)];
        if (patches.Length < 4 * Terms) return null;

        double[][] rows = [.. patches.Select(patch => Basis(patch.Centre, plan.Card))];
        double[] logs = [.. patches.Select(patch => patch.LogLuminance)];
        (double[] coefficients, double[] weights, double scatter) = Fit(rows, logs);
        double[] misses = [.. rows.Select((row, i) => logs[i] - Evaluate(coefficients, row))];
        double burned = Math.Max(LeastBurnedLog, 6 * scatter) * (isInverted ? 1 : -1),
            plain = Math.Max(LeastMissLog, Robust.UsualReach * scatter);
        int[] between = Between(patches, plan);
        double[] field = [.. rows.Select(row => Evaluate(coefficients, row))];
        LightField light = new(coefficients, plan.Card, scatter)
        {
            PlainShare = weights.Count(weight => weight > 0.1) / (double)weights.Length,
            MarkedShare = ShareOf(between, i => misses[i] / burned > 1),
            BrightShare = ShareOf(between, i => misses[i] > plain),
            DarkShare = ShareOf(between, i => misses[i] < -plain),
            ClippedShare = patches.Average(patch => patch.ClippedShare),
            BareCentres = patches.Select(patch => patch.Centre).ToValueList(),
            BetweenCells = between.Select(i => patches[i].Centre).ToValueList(),
            Range = Math.Exp(field.Max() - field.Min()),
            _patches = patches,
            _patchMm = patchMm,
        };

        // The sides of a back-lit card do not ask for it.
        light._markers = new(() => MarkerMark.Of(surface, light.LogLuminanceAt, plan, seenMarkers));
        light._veil = new(() => VeilingGlareField.Fit(
            light, place => Basis(place, plan.Card), surface, patches, weights, light._markers.Value));
        return light;
    }

    /// <summary>
    /// A smooth field through values of the patches, the weight of each, and the standard deviation of plain ones about it.
    /// </summary>
    internal static (double[] Coefficients, double[] Weights, double Scatter) Fit(double[][] rows, double[] values)
    {
        double[] weights = [.. Enumerable.Repeat(1.0, values.Length)];
        double[] coefficients = LeastSquares.SolveWeighted(rows, values, weights);
        double scatter = 0;
        for (int round = 0; round < 8; round++)
        {
            double[] residuals = [.. rows.Select((row, i) => values[i] - Evaluate(coefficients, row))];
            scatter = Math.Max(Robust.Deviation(residuals), 1e-4);
            for (int i = 0; i < weights.Length; i++)
                weights[i] = round < 4
                    ? 1 / Math.Max(Math.Abs(residuals[i]), 0.2 * scatter)
                    : Robust.Biweight(residuals[i], Robust.UsualReach * scatter);
            coefficients = LeastSquares.SolveWeighted(rows, values, weights);
        }

        return (coefficients, weights, scatter);
    }

    /// <summary>Patches lie in a net that knows of no gaps: those of half the free strip always have room in it.</summary>
    private static double PatchMm(double gapMm) =>
        gapMm >= UsualGapMm ? UsualPatchMm : Math.Clamp((gapMm - 2 * ClearanceMm) / 2, LeastPatchMm, UsualPatchMm);

    private double Along(Func<Patch, double> line, Func<Patch, double> place)
    {
        double[] bends = [.. _patches.GroupBy(line).Select(patches => patches.OrderBy(place).ToArray())
            .SelectMany(row => Enumerable.Range(0, Math.Max(0, row.Length - 2))
            .Where(i => place(row[i + 2]) - place(row[i]) < 2.5 * _patchMm)
            .Select(i => row[i].LogLuminance - 2 * row[i + 1].LogLuminance + row[i + 2].LogLuminance))];
        return bends.Length == 0 ? 0 : Robust.Deviation(bends) / Math.Sqrt(6);
    }

    private static double ShareOf(int[] places, Func<int, bool> isSuch) =>
        places.Length == 0 ? 0 : places.Count(isSuch) / (double)places.Length;

    private static IEnumerable<Patch> BarePatches(CardSurface surface, Plan plan, double patchMm)
    {
        for (double y = ClearanceMm; y + patchMm <= plan.Card.HeightMm - ClearanceMm; y += patchMm)
        {
            for (double x = ClearanceMm; x + patchMm <= plan.Card.WidthMm - ClearanceMm; x += patchMm)
            {
                if (plan.Cells.Any(cell => Touches(x, y, patchMm, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm))) continue;
                double side = plan.Fiducials.SideMm;
                if (plan.Fiducials.Markers.Any(marker => Touches(x, y, patchMm, marker.XMm, marker.YMm, side, side))) continue;
                Patch patch = surface.Mean(x, y, patchMm, patchMm, SamplesPerPatchSide);
                if (patch.SeenShare == 1) yield return patch;
            }
        }
    }

    /// <summary>Labels stand around the grid, and a lamp's glow reaches in from the rim; between the cells there is nothing.</summary>
    private static int[] Between(Patch[] patches, Plan plan)
    {
        double left = plan.Cells.Min(cell => cell.XMm), right = plan.Cells.Max(cell => cell.XMm + cell.WidthMm);
        double top = plan.Cells.Min(cell => cell.YMm), bottom = plan.Cells.Max(cell => cell.YMm + cell.HeightMm);
        return [.. Enumerable.Range(0, patches.Length).Where(i =>
            patches[i].Centre.X > left && patches[i].Centre.X < right && patches[i].Centre.Y > top && patches[i].Centre.Y < bottom)];
    }

    private static bool Touches(double patchX, double patchY, double patchMm, double x, double y, double width, double height) =>
        patchX < x + width + ClearanceMm && x - ClearanceMm < patchX + patchMm
        && patchY < y + height + ClearanceMm && y - ClearanceMm < patchY + patchMm;

    private static double[] Basis(PlanePoint at, CardSize card)
    {
        double x = 2 * at.X / card.WidthMm - 1, y = 2 * at.Y / card.HeightMm - 1;
        return [1, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y];
    }

    internal static double Evaluate(double[] coefficients, double[] basis)
    {
        double sum = 0;
        for (int i = 0; i < Terms; i++) sum += coefficients[i] * basis[i];
        return sum;
    }
}
