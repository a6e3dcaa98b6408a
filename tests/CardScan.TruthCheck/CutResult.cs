using CardScan.Model;

namespace CardScan.TruthCheck;

/// <summary>A cut card's reading against its truth, by sides.</summary>
/// <param name="Right">Sides called as they are.</param>
/// <param name="Wrong">Sides called otherwise.</param>
/// <param name="OpenThoughClosed">Of the wrong ones: called open though less than 98 % of the length is open.</param>
/// <param name="Unseen">Sides that the program declines to judge.</param>
/// <param name="OpenRms">RMS error of the open share over judged sides.</param>
/// <param name="KerfRmsMm">RMS error of the kerf over sides seen for more than half of their length, mm.</param>
/// <param name="KerfBiasMm">Mean error of the same, mm.</param>
/// <param name="SureCut">Whether the recommended cell is truly open all round.</param>
internal sealed record CutResult(int Right, int Wrong, int OpenThoughClosed, int Unseen, double OpenRms, double KerfRmsMm,
    double KerfBiasMm, Pick SureCut)
{
    /// <summary>Through: at least this share of the length is open.</summary>
    private const double OpenFrom = 0.98;

    /// <summary>Closed: at most this share is; a pinhole is no opening.</summary>
    private const double ClosedTo = 0.02;

    private const double LeastRightShare = 0.99;

    private const double KerfSeenFrom = 0.5;

    public static CutResult Of(Reading reading, Truth truth, IReadOnlyList<(CellReading Seen, TruthCell True)> pairs)
    {
        (SideReading Seen, TruthSide True)[] sides = [.. pairs.SelectMany(pair => SidesOf(pair.Seen, pair.True))];
        (SideReading Seen, TruthSide True)[] judged = [.. sides.Where(side => side.Seen.State != SideState.Unseen)];
        double[] kerfMm =
            [.. judged.Where(side => side.Seen is { KerfMm: not null, SeenFraction: > KerfSeenFrom } && side.True.ThroughWidthMm is > 0)
                .Select(side => side.Seen.KerfMm!.Value - side.True.ThroughWidthMm!.Value)];
        return new(
            judged.Count(side => side.Seen.State == StateOf(side.True)),
            judged.Count(side => side.Seen.State != StateOf(side.True)),
            judged.Count(side => side.Seen.State == SideState.Open && StateOf(side.True) != SideState.Open),
            sides.Length - judged.Length,
            Figures.Rms(judged.Where(side => side.Seen.OpenFraction is not null)
                .Select(side => side.Seen.OpenFraction!.Value - side.True.OpenFraction)),
            Figures.Rms(kerfMm),
            kerfMm.Length == 0 ? double.NaN : kerfMm.Average(),
            Pick.Of(
                reading, Goal.SureCut, cell => (truth.Best.FullyOpen ?? []).Any(open => open[0] == cell.Row && open[1] == cell.Column)));
    }

    public IEnumerable<string> Misses()
    {
        if (Right + Wrong == 0) yield return "no side was judged";
        else if (Right < LeastRightShare * (Right + Wrong)) yield return $"{Right} of {Right + Wrong} judged sides are right";
        if (OpenThoughClosed > 0) yield return $"{OpenThoughClosed} sides called open are not";
        if (SureCut.IsMissed) yield return $"sure cut: {SureCut}";
    }

    private static SideState StateOf(TruthSide side) =>
        side.OpenFraction >= OpenFrom ? SideState.Open : side.OpenFraction <= ClosedTo ? SideState.Closed : SideState.Partial;

    private static IEnumerable<(SideReading, TruthSide)> SidesOf(CellReading seen, TruthCell truth)
    {
        if (seen.Sides is null || truth.Sides is null) yield break;
        yield return (seen.Sides.Left, truth.Sides["left"]);
        yield return (seen.Sides.Right, truth.Sides["right"]);
        yield return (seen.Sides.Top, truth.Sides["top"]);
        yield return (seen.Sides.Bottom, truth.Sides["bottom"]);
    }
}
