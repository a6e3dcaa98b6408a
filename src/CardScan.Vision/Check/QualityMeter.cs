using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A photo's quality in figures. What they are good for: docs/method/photo-check.md.</summary>
internal static class QualityMeter
{
    private const int NoisePlaces = 60;
    private const int NoiseRun = 12;
    private const int FewestCells = 6;

    /// <summary>
    /// Where the surroundings of dark cells are lifted by a share of their darkness, the cells are by about five times it
    /// (rendered photos toned over 4 mm).
    /// </summary>
    private const double ScaleOfLocalTone = 5;

    /// <summary>Figures that need no front light.</summary>
    public static PhotoQuality Of(Picture picture, IReadOnlyList<RefinedMarker> markers, double pxPerMm)
    {
        Sharpness sharpness = Sharpness.Of(picture, markers);
        return new()
        {
            Mtf50AcrossXPerMm = Rounded(sharpness.AcrossX * pxPerMm, 2),
            Mtf50AcrossYPerMm = Rounded(sharpness.AcrossY * pxPerMm, 2),
        };
    }

    /// <summary>The same with the figures of a front-lit photo.</summary>
    public static PhotoQuality WithLight(PhotoQuality quality, Picture picture, CardPose pose, LightField light, MeasuredCell[] cells,
        CameraResponse? response)
    {
        Measured? tone = LocalToneOf(cells);
        return quality with
        {
            BareLuminance = Rounded(light.MeanLuminance, 3),
            ClippedShare = Rounded(light.ClippedShare, 3),
            Noise = Rounded(NoiseOf(picture, pose, light.BareCentres), 4),
            LightRange = Rounded(light.Range, 2),
            GlareShare = Rounded(light.BrightShare, 3),
            ShadowShare = Rounded(light.DarkShare, 3),
            LocalTone = tone,
            MarkerDarkness = MarkerDarknessIn(light),
            DarknessScaleError = cells.Any(cell => cell.Reading.Darkness is not null)
                ? ScaleError(ToneError(picture, response, cells), tone, VeilingGlareMark.StretchOf(cells.Select(cell => cell.Veiled)))
                : null,
        };
    }

    /// <summary>Mean of the markers, with their scatter; null where fewer than two tell it.</summary>
    private static Measured? MarkerDarknessIn(LightField light)
    {
        double[] darkness = [.. light.Markers.Where(mark => mark.Ratio > 0).Select(mark => -Math.Log10(mark.Ratio))];
        return darkness.Length < 2 ? null : Measured.Of(darkness.Average(), Math.Sqrt(Robust.Variance(darkness) / darkness.Length));
    }

    /// <summary>By which share the tone curve may stretch all marks alike; what is known of it never makes that more.</summary>
    private static double ToneError(Picture picture, CameraResponse? response, MeasuredCell[] cells)
    {
        if (response is null && !picture.IsRaw) return PhotoQuality.UsualDarknessScaleError;
        (double, double)[] marks = [.. cells.Select(cell => cell.Tone).OfType<CellTone>().Select(tone => tone.Ratio)];
        double left = Math.Min(PhotoQuality.UsualDarknessScaleError, ToneDoubts.By(picture.ToneShifts, marks).Stretch);
        return double.Hypot(left, response?.Record.Scale?.OwnError ?? 0);
    }

    private static double ScaleError(double byCurve, Measured? tone, double veilStretch)
    {
        double local = tone is not null && PhotoCheck.IsTonedLocally(tone) ? ScaleOfLocalTone * tone.Value : 0;
        return Math.Round(Math.Sqrt(byCurve * byCurve + local * local + veilStretch * veilStretch), 3);
    }

    /// <summary>
    /// Second differences along runs of pixels on bare material (their standard deviation is √6 times the noise), so that
    /// slopes of the light do not count; the median over many places, so that labels do not.
    /// </summary>
    private static double? NoiseOf(Picture picture, CardPose pose, ValueList<PlanePoint> places)
    {
        List<double> deviations = [];
        int step = Math.Max(1, places.Count / NoisePlaces);
        for (int i = 0; i < places.Count; i += step)
        {
            PlanePoint at = pose.ToPhoto(places[i]);
            if (!picture.Contains(at.X - NoiseRun, at.Y) || !picture.Contains(at.X + NoiseRun, at.Y)) continue;
            double[] run = [.. Enumerable.Range(-NoiseRun / 2, NoiseRun)
                .Select(x => picture.At(Math.Round(at.X) + x, Math.Round(at.Y), out _).Luminance)];
            double squares = Enumerable.Range(1, run.Length - 2).Average(x => Math.Pow(run[x - 1] - 2 * run[x] + run[x + 1], 2));
            deviations.Add(Math.Sqrt(squares / 6) / Math.Max(run.Average(), 1e-4));
        }

        return deviations.Count == 0 ? null : Robust.Median(deviations);
    }

    /// <summary>
    /// Slope of the bare material's level against the cell's darkness, both in the same logarithm: 0 where bare material is bare
    /// material, positive where a phone lifts the surroundings of what is dark, negative where soot lies about dark cells.
    /// </summary>
    private static Measured? LocalToneOf(MeasuredCell[] cells)
    {
        (double Darkness, double Excess)[] points = [.. cells
            .Where(cell => cell is { Reading.Darkness: not null, BareReference: not null }
                && !cell.Reading.Flags.Any(flag => CellFlag.IsDisqualifying(flag) || flag == CellFlag.UnevenGround))
            .Select(cell => (cell.Reading.Darkness!.Value * Math.Log(10), cell.BareReference!.LogExcess))];
        if (points.Length < FewestCells) return null;
        double meanX = points.Average(point => point.Darkness), meanY = points.Average(point => point.Excess);
        double squares = points.Sum(point => Math.Pow(point.Darkness - meanX, 2));
        if (squares < 0.1) return null;
        double slope = points.Sum(point => (point.Darkness - meanX) * (point.Excess - meanY)) / squares;
        double rest = points.Sum(point => Math.Pow(point.Excess - meanY - slope * (point.Darkness - meanX), 2));
        return Measured.Of(slope, Math.Sqrt(rest / (points.Length - 2) / squares));
    }

    private static double? Rounded(double? value, int digits) => value is double known ? Math.Round(known, digits) : null;
}
