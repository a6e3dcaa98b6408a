using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The slit of light in a side, as a photo shows it, and the kerf that it comes through.</summary>
/// <param name="FromMm">Inner edge of the light, mm from the path.</param>
/// <param name="ToMm">Outer edge of the light, mm from the path.</param>
/// <param name="KerfMm">Width of the kerf at the far face, mm; the least of what the places of the lens allow.</param>
/// <param name="MostKerfMm">The most of what they allow, mm; the same where the photo gives the focal length.</param>
internal sealed record SideKerf(double FromMm, double ToMm, double KerfMm, double MostKerfMm)
{
    /// <summary>Width of the kerf, mm; null where the places of the lens leave more open than the error that all kerfs share.</summary>
    public double? SureKerfMm => MostKerfMm - KerfMm > CardKerf.CommonErrorMm ? null : KerfMm;

    /// <summary>Width of the light, mm.</summary>
    public double VisibleMm => ToMm - FromMm;
}

/// <summary>Kerf widths of the sides whose light could be measured in one photo.</summary>
internal sealed class Kerfs
{
    /// <summary>Flare (width at the burned face over the far face) where the photo does not show it.</summary>
    private const double AssumedFlare = 1.3;

    private const int FewestSlantedViews = 6;

    /// <summary>Kerfs of one direction differ on a card by about this share, with power and speed (no source).</summary>
    private const double KerfsDiffer = 0.25;

    private readonly Dictionary<SideScan, SideKerf> _bySide = [];

    /// <summary>Width at the burned face over width at the far face.</summary>
    public double Flare { get; private init; } = AssumedFlare;

    /// <summary>Measures the kerfs.</summary>
    /// <param name="lamp">How the photo shows a bright slit.</param>
    /// <param name="sides">Sides with enough light.</param>
    public static Kerfs Measure(LampFit lamp, IEnumerable<(SideScan Scan, double[] MeanProfile)> sides)
    {
        (SideScan Scan, double From, double To)[] slits = [.. sides.Select(side =>
        {
            (double from, double to) = lamp.SlitOf(side.MeanProfile);
            return (side.Scan, from, to);
        })];
        Kerfs kerfs = new() { Flare = FlareOf(slits) };
        foreach ((SideScan scan, double from, double to) in slits)
        {
            double visible = to - from;
            kerfs._bySide[scan] = new(from, to, Through(scan.LeastShiftMm), Through(scan.MostShiftMm));

            double Through(double shiftMm) => scan.ShiftMm is null ? visible : KerfGeometry.ThroughWidth(visible, kerfs.Flare, shiftMm);
        }

        return kerfs;
    }

    /// <summary>What was measured of a side; null where it has too little light.</summary>
    public SideKerf? Of(SideScan scan) => _bySide.GetValueOrDefault(scan);

    /// <summary>A narrow one of the measured kerfs of a direction (one in ten is narrower), mm; null where none is.</summary>
    public double? NarrowOf(bool isUpright) => QuantileOf(isUpright, 0.1);

    /// <summary>The usual one of the measured kerfs of a direction, mm; null where none is.</summary>
    public double? UsualOf(bool isUpright) => QuantileOf(isUpright, 0.5);

    /// <summary>
    /// Width of light that would be seen through a side's kerf from wherever the lens stood, mm. How far the far face's opening
    /// appears shifted is linear in the place across the kerf, so between two sides that are seen to shine it is no more than
    /// at one of them, whatever the focal length. 0 where light is not seen on both sides of this one.
    /// </summary>
    public double SurelyVisibleMm(SideScan scan)
    {
        (double At, double VisibleMm)[] alike = [.. _bySide.Where(side => side.Key.IsUpright == scan.IsUpright)
            .Select(side => (side.Key.AcrossMm, side.Value.VisibleMm))];
        double before = MostOf(alike.Where(side => side.At <= scan.AcrossMm)),
            behind = MostOf(alike.Where(side => side.At >= scan.AcrossMm));
        double narrowerMm = KerfsDiffer * (1 + Flare) / 2 * MostOf(alike);
        return Math.Max(0, Math.Min(before, behind) - narrowerMm);

        static double MostOf(IEnumerable<(double At, double VisibleMm)> sides) =>
            sides.Select(side => side.VisibleMm).DefaultIfEmpty(0).Max();
    }

    private double? QuantileOf(bool isUpright, double share)
    {
        double[] kerfs = [.. _bySide.Where(side => side.Key.IsUpright == isUpright).Select(side => side.Value.KerfMm).Order()];
        return kerfs.Length == 0 ? null : kerfs[(int)(share * kerfs.Length)];
    }

    /// <summary>
    /// In a slanted view the edge of the light on the lens's side is the rim of the burned face, half its width from the
    /// path; visible width and shift add up to the mean of both widths. The median over the card, since single sides
    /// sit a little off their path, is drawn half-way to the usual flare: what blur adds to the rim is not known exactly.
    /// </summary>
    private static double FlareOf((SideScan Scan, double From, double To)[] slits)
    {
        double[] ratios = [.. slits.Where(slit => slit.Scan.ShiftMm is { } shift && Math.Abs(shift) > 0.08 && slit.To - slit.From > 0.05)
            .Select(slit =>
        {
            double shift = slit.Scan.ShiftMm!.Value;
            double face = 2 * (shift > 0 ? slit.To : -slit.From);
            double both = 2 * (slit.To - slit.From + Math.Abs(shift));
            return face / (both - face);
        }).Where(ratio => ratio is > 0.8 and < 3)];
        return ratios.Length < FewestSlantedViews ? AssumedFlare : Math.Max(1, (Robust.Median(ratios) + AssumedFlare) / 2);
    }
}
