using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A back-lit photo's view of all sides of all cells.</summary>
/// <param name="Sides">By the plan's cells, then left, right, top, bottom.</param>
/// <param name="Dropped">By the plan's cells: the piece has fallen out.</param>
/// <param name="Light">The light behind the card.</param>
internal sealed record BackLitView(SideView[][] Sides, bool[] Dropped, LampLight Light)
{
    /// <summary>True where light from behind was seen at all.</summary>
    public bool IsBackLit => Light.IsBackLit || Dropped.Any(cell => cell);
}

/// <summary>Where light comes through the sides of cut cells, and where it would have been seen if they were open.</summary>
/// <remarks>Allowances and limits: docs/method, "Sides".</remarks>
internal static class SideMeasurer
{
    /// <summary>
    /// Dark points among lit ones are judged only where the view shows at least this share of the kerf: in a more slanted
    /// one rough walls hide light here and there.
    /// </summary>
    private const double LeastVisibleShare = 0.3;

    /// <summary>The same for stretches longer than rough walls hide light.</summary>
    private const double LeastVisibleShareOfLong = 0.2;

    /// <summary>Rough walls hide light over shorter stretches than this, mm.</summary>
    private const double LongMm = 0.5;

    /// <summary>A side that is dark all along is judged where at least this width of light would have been seen, mm.</summary>
    private const double LeastVisibleMm = 0.04;

    /// <summary>
    /// … and where blur leaves its peak this many times the threshold: a kerf may be a little narrower than the narrow
    /// ones, and a third of a thin light with it.
    /// </summary>
    private const double SureLight = 1.5;

    /// <summary>Light whose middle is brighter than this many times the threshold has ends that are known.</summary>
    private const double StrongLight = 2;

    /// <summary>Fewer lit points than this share are specks.</summary>
    private const double Specks = 0.1;

    /// <summary>A kerf is measured from sides lit at least this much.</summary>
    private const double LeastLitForKerf = 0.3;

    /// <summary>With no more than this unlit, a side's mean profile is that of one clean slit.</summary>
    private const double MostUnlit = 0.1;

    /// <summary>The kerf that is assumed where no open side of that direction shows one: narrow, so that little is judged, mm.</summary>
    private const double AssumedKerfMm = 0.12;

    /// <summary>
    /// Blur across a side against the mean of both directions between which its kerf is measured: the lamp's fit knows one blur.
    /// Where one direction has less than 0.6 of the other's sharpness, the phone moved (<see cref="PhotoCheck"/>).
    /// </summary>
    private const double LeastBlur = 2 * 0.6 / 1.6, MostBlur = 2 / 1.6;

    /// <summary>The piece has dropped out when this share of the cell's middle shines like the lamp.</summary>
    private const double DroppedShare = 0.9;

    private static readonly CellSide[] AllSides = Enum.GetValues<CellSide>();

    /// <summary>Measures all sides.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="solved">Its pose.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="quality">Sharpness of the photo in both directions.</param>
    public static BackLitView Measure(CardSurface surface, SolvedPose solved, Plan plan, PhotoQuality quality)
    {
        SideScan?[][] scans = [.. plan.Cells.Select(cell => AllSides
            .Select(side => SideScan.Of(surface, solved.Camera, cell, side, plan.Material.ThicknessMm)).ToArray())];
        bool[] dropped = [.. scans.Select(sides => sides.All(scan => scan is not null) && IsDropped(surface, sides[0]!))];
        SideScan[] seen = [.. scans.Where((_, i) => !dropped[i]).SelectMany(sides => sides).OfType<SideScan>()];

        LampLight light = LampLight.Find(surface, plan.Card, seen);
        Dictionary<SideScan, LitSide> lit = seen.ToDictionary(scan => scan, scan => LitSide.Of(scan, light.ThresholdAt(scan)));
        SideScan[] told = [.. seen.Where(IsTold)];
        LampFit lamp = LampFit.To([.. told.Where(scan => lit[scan].UnlitShare < MostUnlit).Select(scan => lit[scan].MeanProfile!)],
            solved.BlurPx / solved.PxPerMm, solved.PxPerMm);
        Kerfs kerfs = Kerfs.Measure(lamp, told.Where(scan => lit[scan].Share > LeastLitForKerf)
            .Select(scan => (scan, lit[scan].MeanProfile!)));

        SideView[][] views = [.. plan.Cells.Select((cell, i) => AllSides
            .Select((side, s) => dropped[i] ? SideView.Of(cell, side, Station.Lit)
                : scans[i][s] is { } scan && IsTold(scan) ? View(scan, lit[scan], lamp, kerfs, light, BlurOf(scan, quality))
                : SideView.Of(cell, side, Station.Unknown))
            .ToArray())];
        return new(views, dropped, light);

        bool IsTold(SideScan scan) => light.StandsOut(scan) && lit[scan].IsToldApart(scan.SurfaceLevel, light.ThresholdAt(scan));
    }

    private static SideView View(SideScan scan, LitSide lit, LampFit lamp, Kerfs kerfs, LampLight light, (double Across, double Along) blur)
    {
        SideKerf? own = kerfs.Of(scan);
        double usualMm = own?.VisibleMm ?? VisibleOf(kerfs.UsualOf(scan.IsUpright));
        double expectedMm = own is null ? Math.Max(usualMm, LeastVisibleMm) : usualMm;
        Station[] stations = OpenStretches.Of(scan, lit, lamp, light.ThresholdAt(scan), own, expectedMm);

        // Dark is judged only where light would have been seen from every place where the lens may have stood, and
        // from a kerf of which blur leaves enough of it, though it be open over a short stretch only.
        double leastMm = own?.VisibleMm ?? Math.Max(VisibleAt(kerfs.NarrowOf(scan.IsUpright), scan.MostShiftMm),
            light.IsOutshining ? kerfs.SurelyVisibleMm(scan) : 0);
        if (scan.ShiftMm is null || !light.Reaches(scan.Middle)) leastMm = 0;
        if (lit.Share < Specks
            && lamp.PeakOf(leastMm, Specks * scan.LengthMm, blur.Across, blur.Along) < SureLight * light.ThresholdAt(scan))
            leastMm = 0;
        double kerfMm = own?.KerfMm ?? kerfs.NarrowOf(scan.IsUpright) ?? AssumedKerfMm;
        double? sureKerfMm = light.IsOutshining && blur.Across is > LeastBlur and < MostBlur ? own?.SureKerfMm : null;
        double shortestDarkMm = Math.Max(ShortestDark(lit.Share, leastMm, kerfMm), EndsDoubt());
        return new(AtFarFace(stations, scan, lit, shortestDarkMm), sureKerfMm, own?.VisibleMm ?? 0, scan.LengthMm, lamp.BlurMm);

        // A weak light ends now here, now there: a dark stretch as short as that, two standard errors, is no bridge.
        double EndsDoubt()
        {
            double threshold = lit.AboveGroove(light.ThresholdAt(scan)), peak = lamp.PeakOf(own?.VisibleMm ?? 0);
            return own is null || peak > StrongLight * threshold ? 0 : 2 * lamp.EndDoubtOf(threshold, peak);
        }

        double VisibleOf(double? kerfMm) => VisibleAt(kerfMm, scan.ShiftMm ?? 0);

        double VisibleAt(double? kerfMm, double shiftMm)
        {
            double widthMm = kerfMm ?? AssumedKerfMm;
            return KerfGeometry.VisibleWidth(widthMm, widthMm * kerfs.Flare, shiftMm);
        }
    }

    /// <summary>Blur across and along a side, as multiples of the mean of both: a phone that moved blurs one way.</summary>
    private static (double Across, double Along) BlurOf(SideScan scan, PhotoQuality quality)
    {
        if (quality.Mtf50AcrossXPerMm is not { } x || quality.Mtf50AcrossYPerMm is not { } y) return (1, 1);

        // Blur goes with the reciprocal of MTF50.
        double ofX = 2 * y / (x + y), ofY = 2 * x / (x + y);
        return scan.IsUpright ? (ofX, ofY) : (ofY, ofX);
    }

    /// <summary>
    /// The points of the far face, where bridges are: seen aslant, they stand beside where they are. One that lies beyond the
    /// burned face's groove, or under the crossing side's light, is not seen.
    /// </summary>
    private static Station[] AtFarFace(Station[] seen, SideScan scan, LitSide lit, double shortestDarkMm)
    {
        Station[] far = new Station[seen.Length];
        double stepMm = scan.LengthMm / seen.Length;
        int shift = (int)Math.Round(scan.AlongMm / stepMm);
        foreach ((Station value, int start, int end) in Runs.Of(seen))
        {
            Station judged = value == Station.Lit ? Station.Lit : (end - start) * stepMm >= shortestDarkMm ? Station.Dark : Station.Hidden;
            for (int i = Math.Max(start, shift); i < Math.Min(end, far.Length + shift); i++)
            {
                if (!lit.IsNeighbours[i / OpenStretches.Fineness]) far[i - shift] = judged;
            }
        }

        return far;
    }

    /// <summary>
    /// Length from which on a stretch without light is dark, mm: among lit ones, a shorter one may be a rough wall's doing.
    /// </summary>
    private static double ShortestDark(double litShare, double visibleMm, double kerfMm)
    {
        if (litShare < Specks) return visibleMm >= LeastVisibleMm ? 0 : double.PositiveInfinity;
        return (visibleMm / kerfMm) switch
        {
            >= LeastVisibleShare => 0,
            >= LeastVisibleShareOfLong => LongMm,
            _ => double.PositiveInfinity,
        };
    }

    private static bool IsDropped(CardSurface surface, SideScan scan)
    {
        const double inset = 0.15, bright = 0.6;
        Cell cell = scan.Cell;
        double threshold = scan.SurfaceLevel + bright * (1 - scan.SurfaceLevel);
        return surface.ShareBrighter(
            cell.XMm + inset * cell.WidthMm, cell.YMm + inset * cell.HeightMm, (1 - 2 * inset) * cell.WidthMm,
            (1 - 2 * inset) * cell.HeightMm, points: 12, threshold) >= DroppedShare;
    }
}
