using CardScan.Model;

namespace CardScan.Vision;

/// <summary>From points along a side to what is said of it.</summary>
internal static class SideSummary
{
    /// <summary>
    /// A side is through from this share of its length on, and closed below the rest to one (design of the goals:
    /// docs/method).
    /// </summary>
    private const double OpenShare = 0.98;

    /// <summary>More of a side not judged than this share of its length, and nothing is said of the whole of it.</summary>
    private const double MostUnjudged = 0.1;

    /// <summary>
    /// Light on a stretch shorter than this many blurs (standard deviations), two from each end, may be carried there from
    /// beyond.
    /// </summary>
    private const double BlursOfDoubt = 4;

    /// <summary>Describes one side, as far as it was to be cut: tabs are neither open nor held.</summary>
    public static SideReading Describe(SideView view)
    {
        int lit = Count(Station.Lit), dark = Count(Station.Dark), all = ToCut(view);
        if (lit + dark == 0) return new() { State = SideState.Unseen, SeenFraction = 0 };

        double open = (double)lit / (lit + dark);
        (double lengthMm, double atMm) = LongestBridge(view);
        return new()
        {
            State = StateOf(view, lit, dark, Count(Station.Hidden)),
            OpenFraction = Math.Round(open, 4),
            SeenFraction = Math.Round((double)(lit + dark) / all, 4),
            KerfMm = view.KerfMm is { } kerf ? Math.Round(kerf, 3) : null,
            LongestBridgeMm = Math.Round(lengthMm, 2),
            LongestBridgeAtMm = lengthMm > 0 ? Math.Round(atMm, 2) : null,
        };

        int Count(Station what) => view.Stations.Count(station => station == what);
    }

    /// <summary>What the four sides say of the cell.</summary>
    public static Opening ThroughOf(Sides sides)
    {
        SideReading[] all = [sides.Left, sides.Right, sides.Top, sides.Bottom];
        if (all.All(side => side.State == SideState.Open)) return Opening.Through;
        bool isHeld = all.Any(side => side.State is SideState.Closed or SideState.Partial);
        if (!isHeld) return Opening.Unseen;
        return all.Any(side => side.State is SideState.Open or SideState.Partial) ? Opening.Partial : Opening.Closed;
    }

    /// <summary>Mean kerf of the open sides, by direction.</summary>
    public static CardKerf? KerfOf(IEnumerable<Sides> cells)
    {
        Sides[] all = [.. cells];
        CardKerf kerf = new()
        {
            AcrossXMm = Mean(all.SelectMany(sides => new[] { sides.Left, sides.Right })),
            AcrossYMm = Mean(all.SelectMany(sides => new[] { sides.Top, sides.Bottom })),
        };
        return kerf.AcrossXMm is null && kerf.AcrossYMm is null ? null : kerf;
    }

    private static Measured? Mean(IEnumerable<SideReading> sides)
    {
        double[] kerfs = [.. sides.Where(side => side is { State: SideState.Open, KerfMm: not null }).Select(side => side.KerfMm!.Value)];
        if (kerfs.Length < 2) return null;
        double mean = kerfs.Average();
        return Measured.Of(mean, Math.Sqrt(Robust.Variance(kerfs) / kerfs.Length + CardKerf.CommonErrorMm * CardKerf.CommonErrorMm));
    }

    private static SideState StateOf(SideView view, int lit, int dark, int hidden)
    {
        int all = ToCut(view);
        double open = (double)lit / (lit + dark), leastEvidence = (1 - OpenShare) * all;
        if (all - lit - dark > MostUnjudged * view.Stations.Length)
            return lit > leastEvidence && dark > leastEvidence ? SideState.Partial : SideState.Unseen;
        if (lit - DoubtOf(view) <= (1 - OpenShare) * (lit + dark)) return SideState.Closed;
        if (open < OpenShare || dark + UnjudgedBesideBridges(view) > leastEvidence) return SideState.Partial;
        return lit >= OpenShare * (lit + dark + hidden) ? SideState.Open : SideState.Unseen;
    }

    /// <summary>Points that were to be cut: all but those of tabs.</summary>
    private static int ToCut(SideView view) => view.Stations.Count(station => station != Station.Tab);

    /// <summary>Points by which the length of the light may be wrong: half a blur for each stretch, by chance this way or that.</summary>
    private static double DoubtOf(SideView view) =>
        0.5 * view.BlurMm / view.LengthMm * view.Stations.Length * Math.Sqrt(Runs.Of(view.Stations).Count(run => run.Value == Station.Lit));

    /// <summary>
    /// Points that were not looked at and may belong to a bridge: it ends so close to them that blur carries the light beyond
    /// them over the rest. Zero where there is no such bridge.
    /// </summary>
    private static int UnjudgedBesideBridges(SideView view)
    {
        (Station Value, int Start, int End)[] runs = [.. Runs.Of(view.Stations)];
        int reach = (int)(BlursOfDoubt * view.BlurMm / view.LengthMm * view.Stations.Length);
        return runs.Where(run => run.Value == Station.Unknown && runs.Any(bridge => bridge.Value == Station.Dark
            && (bridge.Start <= run.Start ? run.Start - bridge.End : bridge.Start - run.End) < reach)).Sum(run => run.End - run.Start);
    }

    private static (double LengthMm, double AtMm) LongestBridge(SideView view)
    {
        (_, int start, int end) = Runs.Of(view.Stations).Where(run => run.Value == Station.Dark).DefaultIfEmpty()
            .MaxBy(run => run.End - run.Start);
        double stepMm = view.LengthMm / view.Stations.Length;
        return ((end - start) * stepMm, (start + end) / 2.0 * stepMm);
    }
}
