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

    /// <summary>A lamp around the card outshines its face by at least this factor; an overexposed white table hardly outshines bare wood so much.</summary>
    private const double LeastRimOverCard = 4;

    private const double RimMm = 3;

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
        PlanePoint[] kerfs = [.. scans.Where(scan => scan.Profiles.Any(profile => profile.Max() > shining.ThresholdAt(scan))).Select(scan => scan.Middle)];
        bool isAround = LampAtRim > LeastRimOverCard * face && BrightShareOfRim(surface, card) >= LeastRimShare;
        return shining with
        {
            SeenAt = kerfs,
            IsAround = isAround,
            IsBackLit = isAround || (kerfs.Length >= FewestKerfs && level > LeastOverCard * face),
        };
    }

    /// <summary>Luminance from which on a point of a side counts as lit.</summary>
    public double ThresholdAt(SideScan scan) => ThresholdOver(scan.SurfaceLevel);

    /// <summary>Luminance from which on a point counts as lit, over the card's face beside it.</summary>
    public double ThresholdOver(double faceLevel) => faceLevel + LitShare * (Level - faceLevel);

    /// <summary>True where the lamp is taken to be behind the card.</summary>
    public bool Reaches(PlanePoint cardMm) => IsAround || SeenAt.Any(light => light.DistanceTo(cardMm) < ReachMm);

    private static double BrightShareOfRim(CardSurface surface, CardSize card)
    {
        PlanePoint[] around =
        [
            .. Enumerable.Range(0, 10).SelectMany(i => new[]
            {
                new PlanePoint(card.WidthMm * (i + 0.5) / 10, -RimMm), new PlanePoint(card.WidthMm * (i + 0.5) / 10, card.HeightMm + RimMm),
                new PlanePoint(-RimMm, card.HeightMm * (i + 0.5) / 10), new PlanePoint(card.WidthMm + RimMm, card.HeightMm * (i + 0.5) / 10),
            }),
        ];
        return (double)around.Count(at => surface.LuminanceAt(at) > LampAtRim) / around.Length;
    }
}
