namespace CardScan.Vision;

/// <summary>Kerf widths of the sides whose light could be measured in one photo.</summary>
internal sealed class Kerfs
{
    /// <summary>Flare (width at the burned face over the far face) where the photo does not show it.</summary>
    private const double AssumedFlare = 1.3;

    private const int FewestSlantedViews = 6;

    private readonly Dictionary<SideScan, (double KerfMm, double VisibleMm)> _bySide = [];

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
            kerfs._bySide[scan] = (scan.ShiftMm is { } shift ? KerfGeometry.ThroughWidth(visible, kerfs.Flare, shift) : visible, visible);
        }

        return kerfs;
    }

    /// <summary>Kerf and visible width of a side, mm; null where its light could not be measured.</summary>
    public (double KerfMm, double VisibleMm)? Of(SideScan scan) => _bySide.TryGetValue(scan, out (double, double) known) ? known : null;

    /// <summary>A narrow one of the measured kerfs of a direction (one in ten is narrower), mm; null where none is.</summary>
    public double? NarrowOf(bool isUpright)
    {
        double[] kerfs = [.. _bySide.Where(side => side.Key.IsUpright == isUpright).Select(side => side.Value.KerfMm).Order()];
        return kerfs.Length == 0 ? null : kerfs[kerfs.Length / 10];
    }

    /// <summary>
    /// In a slanted view the edge of the light on the lens's side is the rim of the burned face, half its width from the
    /// path; visible width and shift add up to the mean of both widths. The median over the card, since single sides
    /// sit a little off their path, is drawn half-way to the usual flare: what blur adds to the rim is not known exactly.
    /// </summary>
    private static double FlareOf((SideScan Scan, double From, double To)[] slits)
    {
        double[] ratios = [.. slits.Where(slit => slit.Scan.ShiftMm is { } shift && Math.Abs(shift) > 0.08 && slit.To - slit.From > 0.05).Select(slit =>
        {
            double shift = slit.Scan.ShiftMm!.Value;
            double face = 2 * (shift > 0 ? slit.To : -slit.From);
            double both = 2 * (slit.To - slit.From + Math.Abs(shift));
            return face / (both - face);
        }).Where(ratio => ratio is > 0.8 and < 3)];
        return ratios.Length < FewestSlantedViews ? AssumedFlare : Math.Max(1, (Robust.Median(ratios) + AssumedFlare) / 2);
    }
}
