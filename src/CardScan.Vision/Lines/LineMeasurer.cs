using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What the lines of a focus ladder's cell tell.</summary>
/// <param name="Widths">Their widths; null where none could be measured.</param>
/// <param name="Flags">What is doubtful about them.</param>
/// <param name="Beyond">
/// For every line that is seen, how dark it still is beyond its planned ends, as a share of the line: 0 where it ends as
/// planned.
/// </param>
internal sealed record MeasuredLines(LineWidths? Widths, ValueList<string> Flags, ValueList<double> Beyond);

/// <summary>Measures the widths of single burned lines. Definitions, allowances and limits: docs/method/focus.md.</summary>
/// <param name="surface">The card.</param>
/// <param name="pose">Its pose: a tilted photo has fewer pixels a millimetre on its far side.</param>
/// <param name="blurAcrossXPx">Standard deviation of the photo's blur across x, px.</param>
/// <param name="blurAcrossYPx">The same across y, px.</param>
/// <param name="isInverted">True where burning makes the material lighter.</param>
internal sealed class LineMeasurer(CardSurface surface, CardPose pose, double blurAcrossXPx, double blurAcrossYPx, bool isInverted)
{
    /// <summary>Of a line, its ends carry the head's start and stop: this share of it at each end is left out.</summary>
    private const double EndShare = 0.15;

    /// <summary>Profiles reach this share of the way to the neighbouring line, but no farther than the limit, mm.</summary>
    private const double ReachShare = 0.6, MostReachMm = 1.2;

    /// <summary>A line farther from its planned place than this, as a share of the profile's reach, is another line or none.</summary>
    private const double MostAsideShare = 0.6;

    /// <summary>Distance of profiles along a line, mm.</summary>
    private const double StationMm = 0.1;

    /// <summary>Beyond its ends a line is looked for at these distances, mm.</summary>
    private static readonly double[] BeyondMm = [0.5, 0.65, 0.8];

    /// <summary>A width with a larger standard error than this share of it is not told from none.</summary>
    private const double MostRelativeError = 0.25;

    /// <summary>Standard deviation of a Gaussian blur times its MTF50: √(ln 2 / 2) / π.</summary>
    private const double GaussianMtf50 = 0.18739;

    /// <summary>Sampling between the pixels adds this variance on average, px².</summary>
    private const double InterpolationVariance = 1.0 / 6;

    /// <summary>A measurer for a photo.</summary>
    public static LineMeasurer Of(CardSurface surface, SolvedPose solved, PhotoQuality quality, bool isInverted)
    {
        return new(surface, solved.Pose, Blur(quality.Mtf50AcrossXPerMm), Blur(quality.Mtf50AcrossYPerMm), isInverted);

        double Blur(double? mtf50PerMm) => mtf50PerMm is { } mtf
            ? Math.Sqrt(Math.Pow(GaussianMtf50 * solved.PxPerMm / mtf, 2) + InterpolationVariance)
            : solved.BlurPx;
    }

    /// <summary>Measures the lines of a cell.</summary>
    public MeasuredLines Measure(Cell cell)
    {
        BurnedLine[] lines = [.. cell.Lines ?? []];
        Seen[] acrossX = [.. lines.Where(IsUpright).Select(line => Look(line, lines)).OfType<Seen>()];
        Seen[] acrossY = [.. lines.Where(line => !IsUpright(line)).Select(line => Look(line, lines)).OfType<Seen>()];
        Seen[] all = [.. acrossX, .. acrossY];
        LineWidths widths = new() { AcrossXMm = Mean(acrossX), AcrossYMm = Mean(acrossY) };
        return new(
            widths is { AcrossXMm: null, AcrossYMm: null } ? null : widths,
            [
                .. all.Any(line => line.IsSeen && !line.IsResolved) ? [CellFlag.LinesUnresolved] : (string[])[],
                .. all.Any(line => !line.IsSeen) ? [CellFlag.LinesUnseen] : (string[])[],
            ],
            all.Where(line => line.IsSeen).Select(line => line.Beyond).ToValueList());
    }

    private sealed record Seen(LineProfile Profile, bool IsSeen, double Beyond)
    {
        public bool IsResolved => Profile.WidthErrorMm <= MostRelativeError * Profile.WidthMm;
    }

    private static bool IsUpright(BurnedLine line) => line.FromXMm == line.ToXMm;

    /// <summary>
    /// Mean of the lines of one direction. What is not known of the blur moves all of them alike, so the mean keeps their
    /// error; where they scatter by more, it is their scatter's.
    /// </summary>
    private static Measured? Mean(Seen[] lines)
    {
        // One line of three that is not resolved is narrow by chance: without it the mean would be too wide.
        if (lines.Length == 0 || lines.Any(line => !line.IsSeen || !line.IsResolved)) return null;
        double[] widths = [.. lines.Select(line => line.Profile.WidthMm)];
        double stated = lines.Average(line => line.Profile.WidthErrorMm * line.Profile.WidthErrorMm);
        double scatter = widths.Length < 2 ? 0 : Robust.Variance(widths) / widths.Length;
        return Measured.Of(widths.Average(), Math.Sqrt(Math.Max(stated, scatter)));
    }

    /// <summary>Looks at one line; null where it is not wholly in the photo.</summary>
    private Seen? Look(BurnedLine line, BurnedLine[] all)
    {
        PlanePoint from = new(line.FromXMm, line.FromYMm), to = new(line.ToXMm, line.ToYMm);
        double lengthMm = from.DistanceTo(to);
        PlanePoint along = (to - from) * (1 / lengthMm), across = IsUpright(line) ? new(1, 0) : new(0, 1);
        PlanePoint middle = from + along * (lengthMm / 2);
        double pxPerMm = pose.ToPhoto(middle - across * 0.5).DistanceTo(pose.ToPhoto(middle + across * 0.5));
        double reachMm = Math.Min(MostReachMm, ReachShare * NeighbourMm(line, all));
        int half = Math.Max(8, (int)(reachMm / LineProfile.StepMm(pxPerMm)));
        double[] offsets = [.. Enumerable.Range(-half, 2 * half + 1).Select(i => i * reachMm / half)];
        int stations = Math.Max(8, (int)((1 - 2 * EndShare) * lengthMm / StationMm));
        if (Profile(stations, i => from + along * (lengthMm * (EndShare + (1 - 2 * EndShare) * (i + 0.5) / stations))) is not { } profile)
            return null;

        LineProfile fit = LineProfile.Fit(offsets, profile, (IsUpright(line) ? blurAcrossXPx : blurAcrossYPx) / pxPerMm, isInverted);
        bool isSeen = fit.IsSeen && Math.Abs(fit.CentreMm) < MostAsideShare * reachMm;
        return new(fit, isSeen, isSeen ? Math.Max(Beyond(from, along * -1), Beyond(to, along)) : 0);

        double[]? Profile(int count, Func<int, PlanePoint> footOf)
        {
            double[] sums = new double[offsets.Length];
            for (int s = 0; s < count; s++)
            {
                PlanePoint foot = footOf(s);
                for (int o = 0; o < offsets.Length; o++)
                {
                    if (surface.LuminanceAt(foot + across * offsets[o]) is not { } luminance) return null;
                    sums[o] += luminance / count;
                }
            }

            return sums;
        }

        // Along the line's own middle, where the plan has none of it: what is missing there of bare material's light, against what the
        // line lacks.
        double Beyond(PlanePoint end, PlanePoint outward)
        {
            double bare = (profile[0] + profile[^1]) / 2, inLine = bare - profile[Nearest(fit.CentreMm)];
            double[] levels = [.. BeyondMm.Select(mm => surface.LuminanceAt(end + outward * mm + across * fit.CentreMm)).OfType<double>()];
            return levels.Length == 0 || inLine == 0 ? 0 : (bare - levels.Average()) / inLine;
        }

        int Nearest(double atMm) =>
            Math.Clamp((int)Math.Round((atMm + reachMm) / (2 * reachMm) * (offsets.Length - 1)), 0, offsets.Length - 1);
    }

    /// <summary>Distance to the nearest line that runs the same way beside it, mm.</summary>
    private static double NeighbourMm(BurnedLine line, BurnedLine[] all) => all
        .Where(other => other != line && IsUpright(other) == IsUpright(line))
        .Select(other => IsUpright(line) ? Math.Abs(other.FromXMm - line.FromXMm) : Math.Abs(other.FromYMm - line.FromYMm))
        .Where(distance => distance > 0)
        .DefaultIfEmpty(double.PositiveInfinity)
        .Min();
}
