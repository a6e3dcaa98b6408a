using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The light behind the card, as far as the photo shows it.</summary>
/// <param name="Level">Luminance of the brightest light in a cutting path, 0 to 1.</param>
/// <param name="SeenAt">Middles of the cells with shining kerfs, mm.</param>
/// <param name="IsAround">True where it shines nearly all around the card, so that it lies behind the whole of it.</param>
/// <param name="IsBackLit">True where light from behind was seen at all.</param>
internal sealed record LampLight(double Level, PlanePoint[] SeenAt, bool IsAround, bool IsBackLit)
{
    /// <summary>Light from behind outshines the card's face by at least this factor.</summary>
    private const double LeastOverCard = 2.5;

    /// <summary>Light counts from this share of the way between the card's face and the lamp: a glowing wall stays below.</summary>
    private const double LitShare = 0.2;

    /// <summary>How far from seen light the lamp is taken to reach, mm: a pad may be smaller than the card.</summary>
    private const double ReachMm = 45;

    /// <summary>Two shining kerfs are no chance.</summary>
    private const int FewestKerfs = 2;

    /// <summary>A lamp around the card is at the top of the scale nearly everywhere; a white table is not.</summary>
    private const double LampAtRim = 0.97;

    private const double LeastRimShare = 0.9;

    /// <summary>
    /// A lamp around the card outshines its face by at least this factor; an overexposed white table hardly outshines bare
    /// wood so much.
    /// </summary>
    private const double LeastRimOverCard = 4;

    private const double RimMm = 3;

    /// <summary>
    /// True where the lamp outshines the card in the photo as lamps usually do. Else the photo is so bright that the lamp may be
    /// any distance beyond the top of its scale, and nothing tells how wide a slit its light comes through.
    /// </summary>
    public bool IsOutshining { get; private init; }

    /// <summary>Looks for light from behind.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="card">Its size.</param>
    /// <param name="scans">Its sides, pieces that dropped out left aside.</param>
    public static LampLight Find(CardSurface surface, CardSize card, IReadOnlyList<SideScan> scans)
    {
        if (scans.Count == 0) return new(1, [], false, false);
        double face = Robust.Median(scans.Select(scan => scan.SurfaceLevel));
        double level = scans.Max(scan => scan.Profiles.Max(profile => profile.Max()));
        LampLight shining = new(Math.Max(level, LeastOverCard * face), [], false, true);
        PlanePoint[] kerfs = [.. scans.Where(scan => scan.Profiles.Any(profile => profile.Max() > shining.ThresholdAt(scan)))
            .Select(scan => scan.Middle)];
        PlanePoint[] ridges = [.. scans.Where(scan => shining.StandsOut(scan) && IsRidge(scan)).Select(scan => scan.Middle)];
        bool isOutshining = kerfs.Length >= FewestKerfs && level > LeastOverCard * face;
        bool isAround = LampAtRim > LeastRimOverCard * face && BrightShareOfRim(surface, card) >= LeastRimShare;
        return shining with
        {
            // A bright face's noise reaches the threshold here and there; a ridge is no noise.
            SeenAt = isAround || isOutshining ? kerfs : ridges,
            IsAround = isAround,
            IsBackLit = isAround || isOutshining || ridges.Length >= FewestKerfs,
            IsOutshining = isAround || isOutshining,
        };
    }

    /// <summary>
    /// Whether light stands along most of a path at the top of the scale, and falls on both of its sides within the scan: in a
    /// photo so bright that the lamp, cut off there, is not <see cref="LeastOverCard"/> times the card's face. Nothing that is
    /// lit from the front shines in the groove of a cut and is dark beside it.
    /// </summary>
    private static bool IsRidge(SideScan scan)
    {
        double[] across = [.. Enumerable.Range(0, 2 * SideScan.HalfOffsets + 1)
            .Select(o => Robust.Median(scan.Profiles.Select(profile => profile[o])))];
        double peak = across.Max(), foot = (scan.SurfaceLevel + peak) / 2;
        int at = Array.IndexOf(across, peak);
        return peak > LampAtRim && across[..at].Any(value => value < foot) && across[(at + 1)..].Any(value => value < foot);
    }

    /// <summary>Luminance from which on a point of a side counts as lit.</summary>
    public double ThresholdAt(SideScan scan) => ThresholdOver(scan.SurfaceLevel);

    /// <summary>
    /// Luminance from which on a point counts as lit, over the card's face beside it: a fifth of the way to the lamp, which is
    /// brighter than the photo can tell where the face is bright. So a point stands above the face by three tenths of it at least,
    /// and noise does not reach it.
    /// </summary>
    public double ThresholdOver(double faceLevel) => faceLevel + LitShare * (Math.Max(Level, LeastOverCard * faceLevel) - faceLevel);

    /// <summary>True where light can be told from the face beside a side, below the top of the photo's scale.</summary>
    public bool StandsOut(SideScan scan) => ThresholdAt(scan) < LampAtRim;

    /// <summary>True where the lamp is taken to be behind the card.</summary>
    public bool Reaches(PlanePoint cardMm) => IsAround || SeenAt.Any(light => light.DistanceTo(cardMm) < ReachMm);

    private static double BrightShareOfRim(CardSurface surface, CardSize card)
    {
        PlanePoint[] around =
        [
            .. Enumerable.Range(0, 10).SelectMany(i => new[]
            {
                new PlanePoint(card.WidthMm * (i + 0.5) / 10, -RimMm), new PlanePoint(card.WidthMm * (i + 0.5) / 10, card.HeightMm + RimMm),
                new PlanePoint(-RimMm, card.HeightMm * (i + 0.5) / 10),
                new PlanePoint(card.WidthMm + RimMm, card.HeightMm * (i + 0.5) / 10),
            }),
        ];
        return (double)around.Count(at => surface.LuminanceAt(at) > LampAtRim) / around.Length;
    }
}
