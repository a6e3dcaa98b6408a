using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A cell's figures and the bare material they were held against; null where it is outside the photo.</summary>
internal sealed record MeasuredCell(CellReading Reading, BareReference? BareReference)
{
    /// <summary>What its lines tell, of a focus ladder.</summary>
    public MeasuredLines? Lines { get; init; }

    /// <summary>What a veil may take of its mark; null where it has no tone.</summary>
    public VeilingGlareMark? Veiled { get; init; }

    /// <summary>Soot that lies beside the card's cells; null where there is none.</summary>
    public Soot? Soot { get; init; }

    /// <summary>Its light as the photo gives it; null where it has no tone.</summary>
    public CellTone? Tone { get; init; }
}

/// <summary>Measures every cell against the bare material around it: an engraved one wholly, of a cut one the char beside it.</summary>
/// <remarks>Definitions, allowances and limits: docs/method, "Cells".</remarks>
internal static class CellMeasurer
{
    /// <summary>The cell's inner part that is measured: its edge carries blur, char and the turning points of the head.</summary>
    private const double MiddleShare = 0.7;

    /// <summary>
    /// The bare frame that a cell is compared with lies 1 to 2 mm outside its edge, or 2 to 3 mm where char reaches past
    /// the first.
    /// </summary>
    private const double NearFromMm = 1;

    private const double NearToMm = 2;

    private const double FarToMm = 3;

    private const double LeastFrameMm = 0.5;

    private const int SamplesPerBlockSide = 6;

    /// <summary>Cell blocks are about this large, mm: errors are judged from blocks, since pixels of grain are not independent.</summary>
    private const double BlockMm = 0.8;

    /// <summary>More of the ring or cell at the top of the scale than this, and its level is a guess.</summary>
    private const double MostClipped = 0.05;

    /// <summary>
    /// Bare material around a cell may stand this far above the card's light field before it counts as glare, in standard
    /// deviations of the grain …
    /// </summary>
    private const double GlareOverGrain = 2;

    /// <summary>… but not less than this, natural log, since no field fits perfectly …</summary>
    private const double LeastGlareExcess = 0.06;

    /// <summary>… and not more than this, however strong the grain.</summary>
    private const double MostGlareExcess = 0.12;

    /// <summary>
    /// A cell's own bare material is taken to scatter at least as much as the sides of the frames do. Fine grain averages out
    /// better over a cell than over a side; grain as coarse as the cell does not, and blocks within it cannot tell.
    /// </summary>
    private const double CellOverSides = 1;

    /// <summary>Measures all cells, in the plan's order.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="light">Its light.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="pose">Its pose.</param>
    /// <param name="lines">Measures the lines of a focus ladder, whose cells have no tone of their own; null for other cards.</param>
    public static MeasuredCell[] Measure(CardSurface surface, LightField light, Plan plan, CardPose pose, LineMeasurer? lines = null)
    {
        Sighting[] sightings = [.. plan.Cells.Select(cell => Look(surface, light, plan, pose, cell, lines))];

        // Four sides tell their scatter badly, all cells' sides together well.
        double grain = Robust.Median(sightings.Where(sighting => sighting.BareReference is not null)
            .Select(sighting => sighting.BareReference!.SideScatter));
        VeilingGlareMark?[] veiled = [.. sightings.Select(sighting => sighting.VeiledIn(light))];
        double stretch = VeilingGlareMark.StretchOf(veiled);
        (double, double)[] marks = [.. sightings.Select(sighting => sighting.Tone?.Ratio ?? default)];
        ToneDoubt[] tones = ToneDoubts.By(surface.ToneShifts, marks).Of;
        // A sensor's black moves the darkest marks by far the most, which is no bend that cells of one strength share unseen.
        if (surface.IsRaw) tones = [.. tones.Select(tone => new ToneDoubt(double.Hypot(tone.ByLight, tone.ByStrength), 0))];
        bool isGlared = sightings.Any(sighting => sighting.BareReference is { } bare && IsGlared(bare, light));
        bool[] covered = plan.Process == Process.Engrave && lines is null
            ? ForeignColour.Over([.. sightings.Select(sighting => sighting.Blocks)], light, surface.IsRaw)
            : new bool[sightings.Length];
        Soot? soot = Soot.Of([.. sightings.Select(sighting => sighting.Halo).OfType<HaloProfile>()]);
        return [.. sightings.Select((sighting, i) => Covered(Describe(sighting, light, plan.Process,
            new(double.IsNaN(grain) ? 0 : grain, stretch, tones[i], isGlared, soot), veiled[i]), covered[i]) with { Soot = soot })];
    }

    private static MeasuredCell Covered(MeasuredCell cell, bool isCovered) => isCovered
        ? cell with { Reading = cell.Reading with { Flags = [CellFlag.Covered, .. cell.Reading.Flags] } }
        : cell;

    /// <summary>The cells with their places and settings, nothing measured.</summary>
    public static ValueList<CellReading> Name(Plan plan, CardPose pose) => plan.Cells.Select(cell => Name(plan, pose, cell)).ToValueList();

    private static CellReading Name(Plan plan, CardPose pose, Cell cell)
    {
        CellSettings settings = plan.SettingsOf(cell);
        PlanePoint centre = pose.ToPhoto(new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2));
        return new()
        {
            Row = cell.Row,
            Column = cell.Column,
            CenterPx = new(Math.Round(centre.X, 2), Math.Round(centre.Y, 2)),
            Settings = settings,
            Dose = plan.DoseOf(settings),
        };
    }

    private static Sighting Look(CardSurface surface, LightField light, Plan plan, CardPose pose, Cell cell, LineMeasurer? lines)
    {
        CellReading named = Name(plan, pose, cell);
        Patch[,] blocks = Blocks(surface, cell);
        if (blocks.Cast<Patch>().Any(block => block.SeenShare < 1)) return new(named, blocks, null, null);
        double gapMm = Gap.Around(cell, plan);
        double fromMm = Math.Min(NearFromMm, gapMm / 3), toMm = Math.Min(NearToMm, gapMm - fromMm),
            endMm = Math.Min(FarToMm, gapMm - fromMm);
        if (BareReference.Around(surface, light, cell, fromMm, toMm) is not { } near) return new(named, blocks, null, null);
        if (lines is not null) return new(named, blocks, near, null) { Lines = lines.Measure(cell) };

        BareReference far = endMm - toMm < LeastFrameMm ? near : BareReference.Around(surface, light, cell, toMm, endMm) ?? near;

        // Bare material differs from spot to spot by grain, so the near frame is the better reference, unless char lies on it.
        HaloProfile? halo = HaloProfile.Of(surface, light, far.LogExcess, cell, gapMm);
        return new(named, blocks, halo?.Reach() is { } reach && reach.Value - reach.StandardError > fromMm ? far : near, halo);
    }

    private static MeasuredCell Describe(Sighting sighting, LightField light, Process process, Shared shared, VeilingGlareMark? veiled)
    {
        (CellReading named, Patch[,] blocks, BareReference? bare, HaloProfile? profile) = sighting;
        Measured? halo = shared.Soot is null ? profile?.Reach() : profile?.ReachWithoutSoot();
        if (bare is null) return new(named with { Flags = [CellFlag.OutOfFrame] }, null);
        if (sighting.Lines is { } lines)
        {
            CellReading seen = named with { LineWidths = lines.Widths, Flags = [.. Flags(blocks, bare, light), .. lines.Flags] };
            return new(seen, bare) { Lines = lines };
        }
        if (process == Process.Cut) return new(named with { HaloMm = halo }, bare);
        BareReference grained = bare with { LogError = bare.LogErrorIn(shared.Grain) };
        return new(Describe(named, blocks, grained, light, halo, shared, veiled!), grained)
        {
            Veiled = veiled, Tone = sighting.Tone,
        };
    }

    private static CellReading Describe(CellReading named, Patch[,] blocks, BareReference bare, LightField light, Measured? halo,
        Shared shared, VeilingGlareMark veiled)
    {
        LinearRgb cellRgb = MeanOf(blocks);
        (double blockError, double unevenness) = Spread(blocks, light);
        double relativeError = Math.Max(blockError, CellOverSides * bare.GrainHere(shared.Grain));
        double logRatio = veiled.LogRatio;
        double ratio = Math.Exp(logRatio);

        // A reference above the field by more than grain may be a reflection's rim; light of that share over the cell would be seen
        // in it. Where a reflection surely lies on the card, what stands above the field is its rim before it is grain.
        double rim = Math.Max(0, bare.LogExcess - (shared.IsGlared ? 0 : Math.Max(shared.Grain, light.Scatter / 2)));
        double white = veiled.Beyond(shared.VeilStretch) + rim * Math.Abs(1 - ratio) / ratio;
        double logError = Math.Sqrt(
            relativeError * relativeError + bare.LogError * bare.LogError + white * white + shared.Tone.ByLight * shared.Tone.ByLight);

        // Cells are weighed by the error of darkness, which what moves all marks as strong alike must not swell; the contrast as
        // such may be off by it.
        double contrastError = ratio * Math.Sqrt(logError * logError + shared.Tone.ByStrength * shared.Tone.ByStrength);
        Lab cellLab = cellRgb.ToLab(), bareLab = bare.Rgb.ToLab();

        return named with
        {
            Darkness = Measured.Of(-logRatio / Math.Log(10), logError / Math.Log(10)),
            Lightness = Measured.Of(cellLab.L, Math.Abs((cellRgb * (1 + relativeError)).ToLab().L - cellLab.L)),
            Contrast = Measured.Of(ratio - 1, contrastError),
            DeltaE2000 = Measured.Of(Lab.DeltaE2000(cellLab, bareLab), DeltaEError(cellRgb, bare.Rgb, relativeError, bare.LogError)),
            Evenness = Measured.Of(1 - unevenness, unevenness / Math.Sqrt(2.0 * Math.Max(1, blocks.Length - 1))),
            HaloMm = halo,
            Flags = Flags(blocks, bare, light).ToValueList(),
        };
    }

    private static IEnumerable<string> Flags(Patch[,] blocks, BareReference bare, LightField light)
    {
        if (IsGlared(bare, light)) yield return CellFlag.Glare;
        if (blocks.Cast<Patch>().Average(block => block.ClippedShare) > MostClipped || bare.ClippedShare > MostClipped)
            yield return CellFlag.Clipped;
        if (bare.IsUneven) yield return CellFlag.UnevenGround;
    }

    private static bool IsGlared(BareReference bare, LightField light) =>
        bare.LogExcess > Math.Clamp(GlareOverGrain * light.Scatter, LeastGlareExcess, MostGlareExcess);

    private static Patch[,] Blocks(CardSurface surface, Cell cell)
    {
        double width = cell.WidthMm * MiddleShare, height = cell.HeightMm * MiddleShare;
        double left = cell.XMm + (cell.WidthMm - width) / 2, top = cell.YMm + (cell.HeightMm - height) / 2;
        int columns = Math.Max(3, (int)Math.Round(width / BlockMm)), rows = Math.Max(3, (int)Math.Round(height / BlockMm));
        Patch[,] blocks = new Patch[rows, columns];
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
                blocks[row, column] = surface.Mean(left + width * column / columns, top + height * row / rows, width / columns,
                    height / rows, SamplesPerBlockSide);
        }

        return blocks;
    }

    private static LinearRgb MeanOf(Patch[,] blocks)
    {
        LinearRgb sum = default;
        foreach (Patch block in blocks) sum += block.Rgb;
        return sum * (1.0 / blocks.Length);
    }

    /// <summary>
    /// Relative standard error of the cell's mean and relative standard deviation of its blocks, shading taken out.
    /// </summary>
    /// <remarks>
    /// Grain runs in streaks and blotches: blocks along a streak are alike. How much less than independent blocks a row averages
    /// out is told by the scatter of the row means against that of the blocks, and likewise for columns; both enter as factors.
    /// </remarks>
    private static (double RelativeError, double Unevenness) Spread(Patch[,] blocks, LightField light)
    {
        int rows = blocks.GetLength(0), columns = blocks.GetLength(1);
        double[] rowMeans = new double[rows], columnMeans = new double[columns];
        double[] all = new double[rows * columns];
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
            {
                double flat = blocks[row, column].Rgb.Luminance / Math.Exp(light.LogLuminanceAt(blocks[row, column].Centre));
                all[row * columns + column] = flat;
                rowMeans[row] += flat / columns;
                columnMeans[column] += flat / rows;
            }
        }

        double mean = Math.Max(all.Average(), 1e-6);
        double variance = Math.Max(Robust.Variance(all), 1e-12);
        double alikeInRows = Math.Max(1, Robust.Variance(rowMeans) * columns / variance),
            alikeInColumns = Math.Max(1, Robust.Variance(columnMeans) * rows / variance);
        return (Math.Sqrt(variance / all.Length * alikeInRows * alikeInColumns) / mean, Math.Sqrt(variance) / mean);
    }

    private static double DeltaEError(LinearRgb cell, LinearRgb bare, double cellError, double bareError)
    {
        double at = Lab.DeltaE2000(cell.ToLab(), bare.ToLab());
        double byCell = Lab.DeltaE2000((cell * (1 + cellError)).ToLab(), bare.ToLab()) - at;
        double byBare = Lab.DeltaE2000(cell.ToLab(), (bare * (1 + bareError)).ToLab()) - at;
        return Math.Sqrt(byCell * byCell + byBare * byBare);
    }

    /// <summary>What only all cells together tell of one.</summary>
    /// <param name="Grain">Standard deviation of the sides of a cell's frame, natural log.</param>
    /// <param name="VeilStretch">Share by which veils stretch all darkness alike.</param>
    /// <param name="Tone">What an unknown tone curve may do to the cell's mark.</param>
    /// <param name="IsGlared">True where a reflection lies over some cell of the card.</param>
    /// <param name="Soot">Soot that lies to one side of the cells; null where there is none.</param>
    private sealed record Shared(double Grain, double VeilStretch, ToneDoubt Tone, bool IsGlared, Soot? Soot);

    /// <summary>A cell before it is described; without a reference it is not wholly in the photo.</summary>
    private sealed record Sighting(CellReading Named, Patch[,] Blocks, BareReference? BareReference, HaloProfile? Halo)
    {
        /// <summary>Its lines, where it is a rung of a focus ladder.</summary>
        public MeasuredLines? Lines { get; init; }

        /// <summary>Its light as the photo gives it; null where it has no tone.</summary>
        public CellTone? Tone => BareReference is null || Lines is not null
            ? null
            : new(Blocks[Blocks.GetLength(0) / 2, Blocks.GetLength(1) / 2].Centre, MeanOf(Blocks), BareReference.Rgb);

        /// <summary>What a veil may take of the mark; null where there is none to speak of.</summary>
        public VeilingGlareMark? VeiledIn(LightField light)
        {
            return Tone is { } tone ? new(tone.Ratio.Log, light.VeilAt(tone.At)) : null;
        }
    }
}
