namespace CardScan.Vision;

/// <summary>
/// One burned line as the photo shows it across: a dark stretch with sharp ends, blurred, on bare material whose light may
/// slope.
/// </summary>
/// <param name="CentreMm">Middle of the line, mm from where the plan has it.</param>
/// <param name="WidthMm">Its width, mm.</param>
/// <param name="WidthErrorMm">Standard error of the width, mm: noise, and what is not known of the blur.</param>
/// <param name="Contrast">Weber contrast of the line itself, blur taken out; positive is darker.</param>
/// <param name="IsSeen">True where it stands out from the noise.</param>
/// <param name="BlurMm">Standard deviation of the blur, mm, as fitted.</param>
internal sealed record LineProfile(double CentreMm, double WidthMm, double WidthErrorMm, double Contrast, bool IsSeen, double BlurMm)
{
    /// <summary>
    /// The markers' edges tell the blur to about this, relative: char softens them, and focus is not alike all over the
    /// photo.
    /// </summary>
    private const double BlurSpread = 0.1;

    /// <summary>No blur is quite Gaussian: what that does to a width is this share of the blur's variance over the width.</summary>
    private const double BlurShapeError = 0.5;

    /// <summary>Samples are this many to a pixel; neighbours are not independent, so that many count as one.</summary>
    private const double SamplesPerPixel = 2, Dependence = 3;

    /// <summary>Least depth of a line's profile against the noise of its samples.</summary>
    private const double LeastDepth = 6;

    /// <summary>A profile no deeper than this share of the bare material's light is none.</summary>
    private const double LeastShare = 0.02;

    /// <summary>Distance of samples across a line, mm.</summary>
    public static double StepMm(double pxPerMm) => 1 / (SamplesPerPixel * pxPerMm);

    /// <summary>Fits a line.</summary>
    /// <param name="offsetsMm">Places across the line, mm from its planned place, evenly spaced.</param>
    /// <param name="luminance">Mean luminance along the line at these places.</param>
    /// <param name="blurMm">Standard deviation of the photo's blur in that direction, mm.</param>
    /// <param name="isInverted">True where burning makes the material lighter.</param>
    public static LineProfile Fit(double[] offsetsMm, double[] luminance, double blurMm, bool isInverted)
    {
        double sign = isInverted ? -1 : 1;
        double bare = Robust.Median([.. luminance[..(luminance.Length / 5)], .. luminance[^(luminance.Length / 5)..]]);
        double[] depth = [.. luminance.Select(value => sign * (1 - value / bare))];
        int deepest = Array.IndexOf(depth, depth.Max());
        double stepMm = offsetsMm[1] - offsetsMm[0], area = depth.Sum() * stepMm;

        double[] best = [];
        double noise = 0.005, loss = double.PositiveInfinity;
        // A wide line half as deep looks much like a narrow one: start from both.
        foreach (double share in (ReadOnlySpan<double>)[0.9, 0.5])
        {
            double width = Math.Max(area / Math.Max(depth.Max() / share, 0.02), 0.3 * blurMm);
            double[] trial = Minimise([offsetsMm[deepest], Math.Log(width), 0, depth.Max() / share, 0, 0], noise);
            double found = Sum(trial, noise);
            if (found < loss) (best, loss) = (trial, found);
        }

        noise = Math.Max(Noise(best), 2e-4);
        best = Minimise(best, noise);
        noise = Math.Max(Noise(best), 2e-4);
        double widthMm = Math.Exp(best[1]), shapeError = BlurShapeError * Math.Pow(BlurOf(best) / widthMm, 2);
        double lnError = Math.Sqrt(Math.Pow(LnWidthError(best, noise), 2) + shapeError * shapeError),
            peak = best[3] * Normal.Blurred(0, -widthMm / 2, widthMm / 2, BlurOf(best));
        return new(best[0], widthMm, widthMm * lnError, best[3], peak > Math.Max(LeastDepth * noise, LeastShare), BlurOf(best));

        double[] Minimise(double[] start, double noise) => LeastSquares.Minimise(
            start, [0.1 * blurMm, 0.2, 0.1, 0.1, 0.05, 0.05], (at, residuals) => Residuals(at, residuals, noise), depth.Length + 1);

        double Sum(double[] at, double noise)
        {
            double[] residuals = new double[depth.Length + 1];
            Residuals(at, residuals, noise);
            return residuals.Sum(r => r * r);
        }

        void Residuals(double[] at, double[] residuals, double noise)
        {
            double half = Math.Exp(at[1]) / 2, blur = BlurOf(at), root = Math.Sqrt(Dependence);
            for (int i = 0; i < depth.Length; i++)
            {
                double line = at[3] * Normal.Blurred(offsetsMm[i], at[0] - half, at[0] + half, blur);
                residuals[i] = (line + at[4] + at[5] * offsetsMm[i] / offsetsMm[^1] - depth[i]) / (noise * root);
            }

            residuals[^1] = at[2] / BlurSpread;
        }

        double BlurOf(double[] at) => blurMm * Math.Exp(Math.Clamp(at[2], -1, 1));

        double Noise(double[] at)
        {
            double[] residuals = new double[depth.Length + 1];
            Residuals(at, residuals, 1 / Math.Sqrt(Dependence));
            return Math.Sqrt(residuals[..^1].Sum(r => r * r) / Math.Max(1, depth.Length - at.Length + 1));
        }

        double LnWidthError(double[] at, double noise)
        {
            const double step = 1e-4;
            double[] still = new double[depth.Length + 1], moved = new double[depth.Length + 1];
            Residuals(at, still, noise);
            double[][] columns = [.. at.Select((value, p) =>
            {
                double[] to = [.. at];
                to[p] += step;
                Residuals(to, moved, noise);
                return moved.Zip(still, (a, b) => (a - b) / step).ToArray();
            })];
            double[,] normal = new double[at.Length, at.Length];
            for (int i = 0; i < at.Length; i++)
                for (int j = 0; j < at.Length; j++) normal[i, j] = columns[i].Zip(columns[j], (a, b) => a * b).Sum();
            double[] unit = new double[at.Length];
            unit[1] = 1;
            return Math.Sqrt(Math.Max(0, LeastSquares.SolveSymmetric(normal, unit)[1]));
        }
    }
}
