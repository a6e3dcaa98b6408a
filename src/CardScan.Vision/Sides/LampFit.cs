namespace CardScan.Vision;

/// <summary>How the photo shows a bright slit: blurred, and cut off at the top of its scale.</summary>
/// <param name="Level">Luminance of the lamp itself on the photo's scale, where 1 is the top; greater than 1 when it is clipped.</param>
/// <param name="BlurMm">Standard deviation of the picture's blur, mm.</param>
internal sealed record LampFit(double Level, double BlurMm)
{
    private const int MostSlits = 10;

    /// <summary>Steps of the table from light to share.</summary>
    private const int ShareSteps = 40;

    /// <summary>Where the kerf is wider than usual there is more light than an open point's; the table ends here.</summary>
    private const double MostShare = 2;

    /// <summary>Cameras bend the top of their scale; above this luminance a sample only says that it is bright.</summary>
    private const double Shoulder = 0.65;

    /// <summary>
    /// A lamp that outshines the room enough to show through kerfs, in a photo bright enough to show the markers, is
    /// about this far beyond the top of the scale. The profile's shape cannot tell it from blur and width alone.
    /// </summary>
    private const double UsualLevel = 1.95;

    /// <summary>Prior standard deviation of the logarithm of <see cref="UsualLevel"/>.</summary>
    private const double UsualLevelSpread = 0.25;

    /// <summary>Blur of a sharp picture, px: lens, colour filter, and the scan's own step between pixels.</summary>
    private const double SharpPx = 0.8;

    /// <summary>Char softens a marker's edge by up to this standard deviation, mm; it never sharpens one.</summary>
    private const double CharMm = 0.06;

    /// <summary>Prior standard deviation of the blur's logarithm.</summary>
    private const double UsualBlurSpread = 0.1;

    /// <summary>Weight of prior knowledge against profiles, which misfit by rough walls rather than by noise.</summary>
    private const double Misfit = 0.2;

    /// <summary>Below this, a sample may be the groove's wall or the card and says nothing of the slit.</summary>
    private const double Foot = 0.06;

    /// <summary>Typical changes of a slit's centre (mm) and of the logarithm of its width.</summary>
    private static readonly double[] SlitScales = [0.05, 0.3];

    /// <summary>Luminance across a slit from <paramref name="from"/> to <paramref name="to"/>, mm, above its dark surroundings.</summary>
    private double Profile(double at, double from, double to) => Math.Min(Shoulder, Unclipped(at, from, to));

    /// <summary>Luminance in the middle of a slit, above its dark surroundings.</summary>
    /// <param name="widthMm">Width of the slit, mm.</param>
    public double PeakOf(double widthMm) => Unclipped(0, -widthMm / 2, widthMm / 2);

    /// <summary>Luminance in the middle of a short slit, where the picture is blurred more one way than the other.</summary>
    /// <param name="widthMm">Width of the slit, mm.</param>
    /// <param name="lengthMm">Its length, mm.</param>
    /// <param name="across">Blur across the slit, as a multiple of <see cref="BlurMm"/>.</param>
    /// <param name="along">Blur along it, likewise.</param>
    public double PeakOf(double widthMm, double lengthMm, double across, double along) =>
        Level * Normal.Blurred(0, -widthMm / 2, widthMm / 2, across * BlurMm)
        * Normal.Blurred(0, -lengthMm / 2, lengthMm / 2, along * BlurMm);

    /// <summary>True length of a stretch of light that the photo shows longer, by blur, mm; never less than nothing.</summary>
    /// <param name="seenMm">Length over which its light exceeds the threshold, mm.</param>
    /// <param name="threshold">Luminance above the dark.</param>
    /// <param name="peak">Luminance in the middle of a long stretch.</param>
    public double LengthOf(double seenMm, double threshold, double peak)
    {
        double share = threshold / Math.Max(peak, threshold * 1.001);
        // A longer stretch is brighter at the end of what is seen.
        return Bisect(0, seenMm + 4 * BlurMm, length => ShareWithin(seenMm / 2, length) < share);
    }

    /// <summary>
    /// How far the end of a long stretch of light may lie from where it is put, mm: the lamp's level is known to
    /// <see cref="UsualLevelSpread"/>, and where light hardly passes the threshold, its end hangs on that.
    /// </summary>
    /// <param name="threshold">Luminance above the dark.</param>
    /// <param name="peak">Luminance in its middle.</param>
    public double EndDoubtOf(double threshold, double peak)
    {
        double longMm = 20 * BlurMm;
        return (LengthOf(longMm, threshold, peak / (1 + UsualLevelSpread)) - LengthOf(longMm, threshold, peak)) / 2;
    }

    /// <summary>Length of a stretch without light between two with light, mm.</summary>
    /// <param name="share">Light in its middle, as a share of an open point's.</param>
    public double LengthOfShade(double share) => Bisect(0, 8 * BlurMm, length => 1 - ShareWithin(0, length) > share);

    /// <summary>
    /// Point by point along a side, the light as a share of that of an open point, before the photo's scale cuts it off: a
    /// clipped slit grows narrower with less light, and its flanks show by how much.
    /// </summary>
    /// <param name="profiles">Profiles across, along the side.</param>
    /// <param name="lit">The side's light.</param>
    /// <param name="slit">Its slit.</param>
    public double[] OpenShares(double[][] profiles, LitSide lit, SideKerf slit)
    {
        int from = Sample(slit.FromMm - 1.5 * BlurMm), to = Sample(slit.ToMm + 1.5 * BlurMm);
        double[] open = [.. Enumerable.Range(from, to - from + 1).Select(o => Unclipped(OffsetAt(o), slit.FromMm, slit.ToMm))];
        double[] light = [.. profiles.Select(profile => profile[from..(to + 1)].Sum(value => Math.Min(1, lit.AboveGroove(value))))];
        double usual = Robust.Median(light.Where((_, i) => lit.IsLit[i]));
        double[] table = [.. Enumerable.Range(0, ShareSteps + 1)
            .Select(step => open.Sum(value => Math.Min(1, value * step * MostShare / ShareSteps)))];
        double whole = open.Sum(value => Math.Min(1, value));
        return [.. light.Select(value => ShareOf(value / usual * whole, table))];

        static int Sample(double atMm) =>
            Math.Clamp((int)Math.Round(atMm / SideScan.OffsetMm) + SideScan.HalfOffsets, 0, 2 * SideScan.HalfOffsets);
    }

    /// <summary>Fits level and blur to the profiles of slits that are lit all along.</summary>
    /// <param name="profiles">Mean profiles above their dark surroundings, on the scan's offsets.</param>
    /// <param name="markerBlurMm">Blur of the markers' edges (standard deviation), mm.</param>
    /// <param name="pxPerMm">Pixels per millimetre.</param>
    public static LampFit To(IReadOnlyList<double[]> profiles, double markerBlurMm, double pxPerMm)
    {
        double usualBlurMm = UsualBlurMm(markerBlurMm, pxPerMm);
        double[][] slits = [.. profiles.OrderBy(profile => profile.Sum()).Where((_, i) => i % Math.Max(1, profiles.Count / MostSlits) == 0)
            .Take(MostSlits)];
        if (slits.Length == 0) return new(UsualLevel, usualBlurMm);

        (double Centre, double Width)[] starts =
            [.. slits.Select(profile => (CentreOf(profile), Math.Max(0.03, profile.Sum() * SideScan.OffsetMm)))];
        double[] start = [Math.Log(UsualLevel), Math.Log(usualBlurMm),
            .. starts.SelectMany(slit => new[] { slit.Centre, Math.Log(slit.Width * 0.8) })];
        double[] scales = [0.3, 0.3, .. starts.SelectMany(_ => SlitScales)];
        int samples = 2 * SideScan.HalfOffsets + 1;
        double[] best = LeastSquares.Minimise(start, scales, Residuals, slits.Length * samples + 2);
        return new(Math.Exp(best[0]), Math.Exp(best[1]));

        void Residuals(double[] parameters, double[] residuals)
        {
            LampFit trial = new(Math.Exp(parameters[0]), Math.Exp(parameters[1]));
            for (int i = 0; i < slits.Length; i++)
            {
                double centre = parameters[2 + 2 * i], half = Math.Exp(parameters[3 + 2 * i]) / 2;
                for (int o = 0; o < samples; o++)
                    residuals[i * samples + o] = trial.Miss(slits[i], o, centre, half);
            }

            residuals[^2] = Misfit * (parameters[1] - Math.Log(usualBlurMm)) / UsualBlurSpread;
            residuals[^1] = Misfit * (parameters[0] - Math.Log(UsualLevel)) / UsualLevelSpread;
        }
    }

    /// <summary>The edges of the slit that gives a profile, mm from the path.</summary>
    public (double From, double To) SlitOf(double[] profile)
    {
        double width = Math.Max(0.02, profile.Sum() * SideScan.OffsetMm * 0.8);
        double[] best = LeastSquares.Minimise([CentreOf(profile), Math.Log(width)], SlitScales, Residuals, profile.Length);
        double half = Math.Exp(best[1]) / 2;
        return (best[0] - half, best[0] + half);

        void Residuals(double[] parameters, double[] residuals)
        {
            double halfWidth = Math.Exp(parameters[1]) / 2;
            for (int o = 0; o < residuals.Length; o++)
                residuals[o] = Miss(profile, o, parameters[0], halfWidth);
        }
    }

    private static double UsualBlurMm(double markerBlurMm, double pxPerMm) =>
        Math.Sqrt(Math.Max(SharpPx * SharpPx / (pxPerMm * pxPerMm), markerBlurMm * markerBlurMm - CharMm * CharMm));

    internal static double OffsetAt(int sample) => (sample - SideScan.HalfOffsets) * SideScan.OffsetMm;

    private double Miss(double[] profile, int sample, double centre, double half) =>
        profile[sample] < Foot ? 0 : Profile(OffsetAt(sample), centre - half, centre + half) - Math.Min(Shoulder, profile[sample]);

    private double Unclipped(double at, double from, double to) => Level * Normal.Blurred(at, from, to, BlurMm);

    /// <summary>Middle of the light in a profile, mm from the path.</summary>
    public static double CentreOf(double[] profile)
    {
        double sum = 0, total = 0;
        for (int o = 0; o < profile.Length; o++)
        {
            sum += profile[o] * OffsetAt(o);
            total += profile[o];
        }

        return total > 0 ? sum / total : 0;
    }

    /// <summary>Share of an endless stretch's light that one of a length gives at a distance from its middle, mm.</summary>
    private double ShareWithin(double atMm, double lengthMm) => Normal.Blurred(atMm, -lengthMm / 2, lengthMm / 2, BlurMm);

    private static double ShareOf(double light, double[] table)
    {
        int above = Array.FindIndex(table, value => value >= light);
        if (above < 0) return MostShare;
        return above == 0 ? 0 : (above - 1 + (light - table[above - 1]) / (table[above] - table[above - 1])) * MostShare / ShareSteps;
    }

    /// <summary>Where a condition that holds for small values ends.</summary>
    private static double Bisect(double low, double high, Func<double, bool> isBelow)
    {
        while (high - low > 1e-4)
        {
            double middle = (low + high) / 2;
            if (isBelow(middle)) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }
}
