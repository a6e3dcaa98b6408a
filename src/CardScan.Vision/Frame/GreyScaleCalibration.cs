using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>What the printed greys tell of a photo's tones.</summary>
/// <param name="Curve">Undoes the phone's tone curve; null where the greys do not tell it.</param>
/// <param name="Rms">RMS over the steps of what is left between their densities and the photo's, the curve undone.</param>
/// <param name="DensityOneSeenAs">Density at which a grey of density 1 stands in the photo as it is.</param>
/// <param name="Doubt">Why the greys were not used.</param>
internal sealed record GreyScaleCalibration(ToneCurve? Curve, double? Rms, double? DensityOneSeenAs, Warning? Doubt)
{
    private const double PatchMm = 2;

    private const int SamplesPerPatchSide = 8;

    /// <summary>Distance kept from everything printed and from the window, whose edge is cut by hand, mm.</summary>
    private const double ClearanceMm = 1;

    /// <summary>A scale's ticks reach this far from its line, mm.</summary>
    private const double TickMm = 3.5;

    /// <summary>Terms of the light on the sheet: quadratic in x and y, logarithm; the greys stand at two opposite edges only.</summary>
    private const int LightTerms = 6;

    private const double MostClipped = 0.02;

    /// <summary>With fewer kinds of grey, or less between the lightest and the darkest, a curve is a guess.</summary>
    private const int FewestKinds = 4;

    private const double LeastSpan = 0.7;

    private const int FewestPaperPatches = 30;

    /// <summary>
    /// Steps that miss the curve by more than this, RMS in density: a shadow, a reflection, or a print that is not what it
    /// should be.
    /// </summary>
    private const double MostRms = 0.05;

    /// <summary>Weight of the prior that the curve is straight: decides only where the greys do not.</summary>
    private const double Straightness = 0.01;

    /// <summary>Measures the greys and fits light and tone curve together.</summary>
    /// <remarks>
    /// With v the light of the photo's codes in green and g the curve's logarithm: g(ln v) = light(x, y) − D ln 10 at every
    /// patch of paper (D = 0) or grey. Both sides are linear in what is unknown. See docs/method/frame-sheets.md.
    /// </remarks>
    public static GreyScaleCalibration Of(CardSurface sheet, Plan plan)
    {
        FrameSheet frame = plan.Frame!;
        Sample[] samples = [.. Paper(sheet, plan), .. frame.GreySteps.SelectMany((step, i) => Grey(sheet, step, i))];
        double[] kinds = [.. samples.Where(sample => sample.Step >= 0).Select(sample => sample.Density).Distinct().Order()];
        if (samples.Count(sample => sample.Step < 0) < FewestPaperPatches || kinds.Length < FewestKinds || kinds[^1] - kinds[0] < LeastSpan)
            return Unused(new(Codes.GreysUnmeasured));

        double low = samples.Min(sample => sample.Log), high = samples.Max(sample => sample.Log);
        double[] solution = Solve(samples, plan.Card, low, high, out double rms);
        double paper = Robust.Median(samples.Where(sample => sample.Step < 0).Select(sample => sample.Log));
        ToneCurve curve = new(low, high, solution[..ToneCurve.Terms], paper);
        return rms > MostRms || !curve.Rises
            ? Unused(new(Codes.GreysMisfit, ("misfit", In(Unit.Density, rms))))
            : new(curve, rms, SeenAs(curve, paper), null);
    }

    private static double[] Solve(Sample[] samples, CardSize card, double low, double high, out double rms)
    {
        double[][] rows =
            [.. samples.Select(sample => Row(sample, card, low, high)), .. Enumerable.Range(1, ToneCurve.Terms - 1).Select(Straight)];
        double[] targets = [.. samples.Select(sample => -sample.Density * Math.Log(10)), .. Enumerable.Repeat(0.0, ToneCurve.Terms - 1)];
        double[] weights = [.. Enumerable.Repeat(1.0, rows.Length)];
        double[] solution = [], misses = [];
        for (int round = 0; round < 10; round++)
        {
            solution = LeastSquares.SolveWeighted(rows, targets, weights);
            misses = [.. samples.Select((_, i) => rows[i].Zip(solution, (a, b) => a * b).Sum() - targets[i])];
            double reach = Robust.UsualReach * Math.Max(Robust.Deviation(misses), 0.01);
            for (int i = 0; i < samples.Length; i++) weights[i] = Robust.Biweight(misses[i], reach);
        }

        // Every step counts, also those that the fit left out.
        rms = Math.Sqrt(samples.Zip(misses).Where(pair => pair.First.Step >= 0).GroupBy(pair => pair.First.Step)
            .Average(step => Math.Pow(step.Average(pair => pair.Second) / Math.Log(10), 2)));
        return solution;
    }

    private static double[] Row(Sample sample, CardSize card, double low, double high)
    {
        double x = 2 * sample.At.X / card.WidthMm - 1, y = 2 * sample.At.Y / card.HeightMm - 1;
        return [.. ToneCurve.Basis(sample.Log, low, high), -1, -x, -y, -x * x, -x * y, -y * y];
    }

    private static double[] Straight(int term)
    {
        double[] row = new double[ToneCurve.Terms + LightTerms];
        row[term] = Straightness;
        return row;
    }

    /// <summary>Density, in the photo as it is, of what has density 1: found by halving.</summary>
    private static double SeenAs(ToneCurve curve, double paper)
    {
        double dark = paper - 3 * Math.Log(10), light = paper;
        for (int i = 0; i < 40; i++)
        {
            double middle = (dark + light) / 2;
            if (curve.Log(middle) > paper - Math.Log(10)) light = middle;
            else dark = middle;
        }

        return (paper - light) / Math.Log(10);
    }

    private static IEnumerable<Sample> Paper(CardSurface sheet, Plan plan)
    {
        FrameSheet frame = plan.Frame!;
        (double X, double Y, double Width, double Height)[] printed =
        [
            (frame.Window.XMm, frame.Window.YMm, frame.Window.WidthMm, frame.Window.HeightMm),
            .. plan.Fiducials.Markers.Select(marker => (marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm)),
            .. frame.GreySteps.Select(step => (step.XMm, step.YMm, step.WidthMm, step.HeightMm)),
            .. frame.Rulers.Select(ruler => (
                Math.Min(ruler.FromXMm, ruler.ToXMm) - TickMm, Math.Min(ruler.FromYMm, ruler.ToYMm) - TickMm,
                Math.Abs(ruler.ToXMm - ruler.FromXMm) + 2 * TickMm, Math.Abs(ruler.ToYMm - ruler.FromYMm) + 2 * TickMm)),
        ];
        for (double y = ClearanceMm; y + PatchMm <= plan.Card.HeightMm - ClearanceMm; y += PatchMm / 2)
        {
            for (double x = ClearanceMm; x + PatchMm <= plan.Card.WidthMm - ClearanceMm; x += PatchMm)
            {
                if (!printed.Any(thing => Touches(x, y, thing)) && SampleOf(sheet, x, y, PatchMm, PatchMm, 0, -1) is { } sample)
                    yield return sample;
            }
        }
    }

    private static bool Touches(double x, double y, (double X, double Y, double Width, double Height) thing) =>
        x < thing.X + thing.Width + ClearanceMm && thing.X - ClearanceMm < x + PatchMm
        && y < thing.Y + thing.Height + ClearanceMm && thing.Y - ClearanceMm < y + PatchMm;

    private static IEnumerable<Sample> Grey(CardSurface sheet, GreyStep step, int index)
    {
        double width = step.WidthMm - 2 * ClearanceMm, height = step.HeightMm - 2 * ClearanceMm;
        if (width <= 0 || height <= 0) yield break;
        (int columns, int rows) = (Math.Max(1, (int)(width / PatchMm)), Math.Max(1, (int)(height / PatchMm)));
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
            {
                double x = step.XMm + ClearanceMm + width * column / columns, y = step.YMm + ClearanceMm + height * row / rows;
                if (SampleOf(sheet, x, y, width / columns, height / rows, step.Density, index) is { } sample) yield return sample;
            }
        }
    }

    private static Sample? SampleOf(CardSurface sheet, double x, double y, double width, double height, double density, int step)
    {
        Patch patch = sheet.Mean(x, y, width, height, SamplesPerPatchSide);
        return patch.SeenShare < 1 || patch.ClippedShare > MostClipped || patch.Rgb.G < 1e-4
            ? null
            : new(patch.Centre, Math.Log(patch.Rgb.G), density, step);
    }

    private static GreyScaleCalibration Unused(Warning doubt) => new(null, null, null, doubt);

    /// <summary>A patch of paper or grey.</summary>
    /// <param name="At">Its middle, mm.</param>
    /// <param name="Log">Natural log of its light by the photo's codes, in green.</param>
    /// <param name="Density">Of the grey; 0 of paper.</param>
    /// <param name="Step">Index of the grey step; −1 of paper.</param>
    private sealed record Sample(PlanePoint At, double Log, double Density, int Step);
}
