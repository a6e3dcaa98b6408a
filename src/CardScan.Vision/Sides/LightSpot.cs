namespace CardScan.Vision;

/// <summary>
/// A spot of light in a side that is closed beside it: a blurred rectangle, cut off at the top of the photo's scale. The
/// lamp's level and the blur are known from the card's open sides, so that length and width are told apart.
/// </summary>
internal static class LightSpot
{
    /// <summary>Luminance beyond which a sample only says that it is bright: a spot has few others.</summary>
    private const double Top = 0.9;

    /// <summary>Points beside the spot that are looked at: there it must be dark.</summary>
    private const int Beside = 4;

    /// <summary>
    /// A spot whose ends are too faint to be seen is longer than it looks by no more than this many blurs (standard
    /// deviations) at each.
    /// </summary>
    private const double BlursBeside = 2;

    /// <summary>The stretch of the side that a spot opens, mm from its start.</summary>
    /// <param name="scan">The side.</param>
    /// <param name="lit">Its light.</param>
    /// <param name="lamp">How the photo shows a bright slit.</param>
    /// <param name="start">First lit point.</param>
    /// <param name="end">The point behind the last lit one.</param>
    /// <param name="widthMm">Width of the light in other sides of that direction, mm: where to start.</param>
    public static (double FromMm, double ToMm) Fit(SideScan scan, LitSide lit, LampFit lamp, int start, int end, double widthMm)
    {
        int first = Math.Max(0, start - Beside), last = Math.Min(scan.Profiles.Length, end + Beside);
        int[] offsets = [.. Enumerable.Range(0, lit.MeanProfile!.Length).Where(o => lit.MeanProfile[o] > 0)];
        double[] light = [.. Enumerable.Range(first, last - first)
            .SelectMany(i => offsets.Select(o => Math.Min(Top, lit.AboveGroove(scan.Profiles[i][o]))))];
        double seenMm = (end - start) * scan.StepMm;
        double[] best = LeastSquares.Minimise(
            [(start + end) / 2.0 * scan.StepMm, Math.Log(seenMm / 2), LampFit.CentreOf(lit.MeanProfile), Math.Log(widthMm)],
            [0.05, 0.3, 0.05, 0.3], Residuals, light.Length);
        double half = Math.Exp(best[1]) / 2;

        // Blur carries light over the ends of a stretch, never the stretch beyond its light: a fit that says so has gone astray.
        double mostMm = BlursBeside * lamp.BlurMm;
        return (Math.Max(best[0] - half, start * scan.StepMm - mostMm), Math.Min(best[0] + half, end * scan.StepMm + mostMm));

        void Residuals(double[] at, double[] residuals)
        {
            double halfLength = Math.Exp(at[1]) / 2, halfWidth = Math.Exp(at[3]) / 2;
            double[] across = [.. offsets.Select(o =>
                lamp.Level * Normal.Blurred(LampFit.OffsetAt(o), at[2] - halfWidth, at[2] + halfWidth, lamp.BlurMm))];
            for (int i = first; i < last; i++)
            {
                double along = Normal.Blurred((i + 0.5) * scan.StepMm, at[0] - halfLength, at[0] + halfLength, lamp.BlurMm);
                for (int o = 0; o < across.Length; o++)
                {
                    int k = (i - first) * across.Length + o;
                    residuals[k] = Math.Min(Top, along * across[o]) - light[k];
                }
            }
        }
    }
}
