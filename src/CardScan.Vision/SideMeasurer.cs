using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A back-lit photo's view of all sides of all cells.</summary>
/// <param name="Sides">By the plan's cells, then left, right, top, bottom.</param>
/// <param name="Flare">Width at the burned face over width at the far face, as the slanted views show it; null where they do not.</param>
/// <param name="Lamp">How the photo shows the lamp; null where no light comes through anywhere.</param>
internal sealed record BackLitView(SideView[][] Sides, LampFit? Lamp, double? Flare = null);

/// <summary>Where light comes through the sides of cut cells, and where it would have been seen if they were open.</summary>
/// <remarks>Allowances and limits: docs/method, "Sides".</remarks>
internal static class SideMeasurer
{
    /// <summary>Light counts from this share of the way between the card's surface and the lamp (or the top of the scale): a glowing wall stays below.</summary>
    private const double LitShare = 0.2;

    /// <summary>A dark point is judged only where at least this width of light would have been seen: a narrower one may be lost to a rough wall, mm.</summary>
    private const double LeastVisibleMm = 0.07;

    /// <summary>The kerf that is assumed where no open side of that direction shows one: narrow, so that little is judged, mm.</summary>
    private const double AssumedKerfMm = 0.12;

    /// <summary>Flare (width at the burned face over the far face) where the photo does not show it.</summary>
    private const double AssumedFlare = 1.3;

    /// <summary>How far from seen light the lamp is taken to reach, mm: a pad may be smaller than the card.</summary>
    private const double LampReachMm = 45;

    /// <summary>The piece has dropped out when this share of the cell's middle is as bright as the lamp.</summary>
    private const double DroppedShare = 0.9;

    /// <summary>Measures all sides.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="solved">Its pose.</param>
    /// <param name="plan">Its plan.</param>
    public static BackLitView Measure(CardSurface surface, SolvedPose solved, Plan plan)
    {
        SideScan?[][] scans = [.. plan.Cells.Select(cell => Enum.GetValues<CellSide>()
            .Select(side => SideScan.Of(surface, solved.Camera, cell, side, plan.Material.ThicknessMm)).ToArray())];
        SideScan[] seen = [.. scans.SelectMany(sides => sides).OfType<SideScan>()];
        double lampLevel = seen.Length == 0 ? 0 : seen.Max(scan => scan.Profiles.Max(profile => profile.Max()));

        Dictionary<SideScan, LitSide> lit = seen.ToDictionary(scan => scan, scan => LitSide.Of(scan, Threshold(scan, lampLevel)));
        SideScan[] bright = [.. seen.Where(scan => lit[scan].Share > 0.9 && !IsDropped(surface, scan, lampLevel))];
        LampFit lamp = LampFit.To([.. bright.Select(scan => lit[scan].MeanProfile!)], solved.BlurPx / solved.PxPerMm);
        Kerfs kerfs = Kerfs.From([.. seen.Where(scan => lit[scan].MeanProfile is not null && lit[scan].Share > 0.3 && !IsDropped(surface, scan, lampLevel)).Select(scan => (scan, lit[scan], lamp))]);
        PlanePoint[] lights = [.. seen.Where(scan => lit[scan].Share > 0.02).Select(scan => MiddleOf(scan.Cell))];

        SideView[][] views = [.. plan.Cells.Select((cell, i) => Enum.GetValues<CellSide>()
            .Select((side, s) => scans[i][s] is { } scan
                ? View(surface, scan, lit[scan], lamp, kerfs, lampLevel, lights)
                : SideView.Nothing((int)Math.Ceiling(SideScan.Frame(cell, side).LengthMm / SideScan.StationMm), SideScan.Frame(cell, side).LengthMm))
            .ToArray())];
        return new(views, lights.Length > 0 ? lamp : null, kerfs.Flare);
    }

    private static double Threshold(SideScan scan, double lampLevel) => scan.SurfaceLevel + LitShare * (lampLevel - scan.SurfaceLevel);

    private static PlanePoint MiddleOf(Cell cell) => new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);

    private static bool IsDropped(CardSurface surface, SideScan scan, double lampLevel)
    {
        const int samples = 12;
        Cell cell = scan.Cell;
        int bright = 0;
        for (int j = 0; j < samples; j++)
        {
            for (int i = 0; i < samples; i++)
            {
                PlanePoint at = new(cell.XMm + cell.WidthMm * (0.15 + 0.7 * i / (samples - 1)), cell.YMm + cell.HeightMm * (0.15 + 0.7 * j / (samples - 1)));
                if (surface.LuminanceAt(at) > scan.SurfaceLevel + 0.6 * (lampLevel - scan.SurfaceLevel)) bright++;
            }
        }

        return bright >= DroppedShare * samples * samples;
    }

    private static SideView View(
        CardSurface surface, SideScan scan, LitSide lit, LampFit lamp, Kerfs kerfs, double lampLevel, PlanePoint[] lights)
    {
        if (lights.Length > 0 && IsDropped(surface, scan, lampLevel))
            return new([.. Enumerable.Repeat(Station.Lit, scan.Profiles.Length)], null, 0, scan.LengthMm);

        (double kerfMm, double visibleMm)? measured = kerfs.Of(scan);
        Station[] stations = lit.Stations(scan, lamp, Threshold(scan, lampLevel), measured?.visibleMm ?? LeastVisibleMm);
        if (scan.ShiftMm is { } shift && lights.Any(light => light.DistanceTo(MiddleOf(scan.Cell)) < LampReachMm))
        {
            double expectedMm = measured?.kerfMm ?? kerfs.LeastOf(scan.IsUpright) ?? AssumedKerfMm;
            double visibleMm = measured?.visibleMm ?? KerfGeometry.VisibleWidth(expectedMm, expectedMm * (kerfs.Flare ?? AssumedFlare), shift);
            if (visibleMm >= LeastVisibleMm) JudgeDark(stations, scan);
        }

        return new(stations, measured?.kerfMm, measured?.visibleMm ?? 0, scan.LengthMm);
    }

    /// <summary>
    /// Points without light become dark, except where the far opening, shifted along the side by the slanted view, ends.
    /// </summary>
    private static void JudgeDark(Station[] stations, SideScan scan)
    {
        for (int i = 0; i < stations.Length; i++)
        {
            // Looking at this point of the burned face, one sees the far face this much farther from the lens.
            double farMm = (i + 0.5) * scan.StepMm - scan.AlongMm;
            if (stations[i] == Station.Unknown && farMm > 0 && farMm < scan.LengthMm) stations[i] = Station.Dark;
        }
    }

    /// <summary>The light of one side above its dark groove.</summary>
    private sealed record LitSide(bool[] IsLit, double Share, double[]? MeanProfile)
    {
        public static LitSide Of(SideScan scan, double threshold)
        {
            bool[] isLit = [.. scan.Profiles.Select(profile => profile.Max() > threshold)];
            int count = isLit.Count(lit => lit);
            return new(isLit, (double)count / isLit.Length, count == 0 ? null : MeanOf(scan, isLit, count));
        }

        /// <summary>Lit points, drawn in by what blur and clipping add at each end of a run.</summary>
        public Station[] Stations(SideScan scan, LampFit lamp, double threshold, double visibleMm)
        {
            int spread = (int)Math.Round(Math.Clamp(lamp.SpreadAt(threshold, visibleMm), 0, 2 * lamp.BlurMm) / scan.StepMm);
            Station[] stations = new Station[IsLit.Length];
            for (int start = 0; start < IsLit.Length;)
            {
                int end = start;
                while (end < IsLit.Length && IsLit[end] == IsLit[start]) end++;
                if (IsLit[start]) FillRun(stations, start, end, spread);
                start = end;
            }

            return stations;
        }

        private static void FillRun(Station[] stations, int start, int end, int spread)
        {
            // At the side's own ends light continues around the corner: nothing to draw in.
            int from = start == 0 ? 0 : start + spread;
            int to = end == stations.Length ? end : end - spread;
            if (to <= from) (from, to) = ((start + end) / 2, (start + end) / 2 + 1);
            for (int i = from; i < to; i++) stations[i] = Station.Lit;
        }

        private static double[] MeanOf(SideScan scan, bool[] isLit, int count)
        {
            double[] mean = new double[2 * SideScan.HalfOffsets + 1];
            for (int s = 0; s < isLit.Length; s++)
            {
                if (!isLit[s]) continue;
                for (int o = 0; o < mean.Length; o++) mean[o] += scan.Profiles[s][o] / count;
            }

            return AboveGroove(mean);
        }

        /// <summary>Takes the groove's darkness off, and everything beyond the groove: card is not light.</summary>
        private static double[] AboveGroove(double[] mean)
        {
            int peak = Array.IndexOf(mean, mean.Max());
            int left = Foot(mean, peak, -1), right = Foot(mean, peak, +1);
            double dark = Math.Min(mean[left], mean[right]);
            return [.. mean.Select((value, o) => o < left || o > right ? 0 : Math.Max(0, (value - dark) / Math.Max(1 - dark, 0.1)))];
        }

        private static int Foot(double[] mean, int peak, int step)
        {
            int o = peak;
            while (o + step >= 0 && o + step < mean.Length && (mean[o + step] <= mean[o] || mean[o] > 0.5 * mean[peak])) o += step;
            return o;
        }
    }

    /// <summary>Kerf widths of the sides whose light could be measured.</summary>
    private sealed class Kerfs
    {
        private readonly Dictionary<SideScan, (double KerfMm, double VisibleMm)> _bySide = [];

        /// <summary>Width at the burned face over the far face; null where too few slanted views show it.</summary>
        public double? Flare { get; private init; }

        public static Kerfs From((SideScan Scan, LitSide Lit, LampFit Lamp)[] sides)
        {
            (SideScan Scan, double From, double To)[] slits = [.. sides.Select(side =>
            {
                (double from, double to) = side.Lamp.SlitOf(side.Lit.MeanProfile!);
                return (side.Scan, from, to);
            })];
            Kerfs kerfs = new() { Flare = FlareOf(slits) };
            foreach ((SideScan scan, double from, double to) in slits)
            {
                double visible = to - from;
                double kerf = scan.ShiftMm is { } shift ? KerfGeometry.ThroughWidth(visible, kerfs.Flare ?? AssumedFlare, shift) : visible;
                kerfs._bySide[scan] = (kerf, visible);
            }

            return kerfs;
        }

        public (double KerfMm, double VisibleMm)? Of(SideScan scan) => _bySide.TryGetValue(scan, out (double, double) known) ? known : null;

        /// <summary>A narrow one of the measured kerfs of a direction: one in ten is narrower.</summary>
        public double? LeastOf(bool isUpright)
        {
            double[] kerfs = [.. _bySide.Where(side => side.Key.IsUpright == isUpright).Select(side => side.Value.KerfMm).Order()];
            return kerfs.Length == 0 ? null : kerfs[kerfs.Length / 10];
        }

        /// <summary>
        /// In a slanted view the edge of the light on the lens's side is the rim of the burned face, half its width from
        /// the path; visible width and shift add up to the mean of both widths. Medians over the card: single sides sit
        /// a little off their path.
        /// </summary>
        private static double? FlareOf((SideScan Scan, double From, double To)[] slits)
        {
            double[] ratios = [.. slits.Where(slit => slit.Scan.ShiftMm is { } shift && Math.Abs(shift) > 0.08 && slit.To - slit.From > 0.05).Select(slit =>
            {
                double shift = slit.Scan.ShiftMm!.Value;
                double face = 2 * (shift > 0 ? slit.To : -slit.From);
                double both = 2 * (slit.To - slit.From + Math.Abs(shift));
                return face / (both - face);
            }).Where(ratio => ratio is > 0.8 and < 3).Order()];
            return ratios.Length < 6 ? null : Math.Max(1, ratios[ratios.Length / 2]);
        }
    }
}
