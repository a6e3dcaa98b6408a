using CardScan.Model;

namespace CardScan.TruthCheck;

/// <summary>An engraved card's reading against its truth. Flagged cells, which the program leaves out itself, are left out here.</summary>
/// <param name="SeenRms">RMS error of darkness against the light that really reached the lens.</param>
/// <param name="SurfaceRms">RMS error of darkness against the surface itself, mirrored light left aside.</param>
/// <param name="Spearman">Rank correlation of darkness with the light that reached the lens.</param>
/// <param name="ErrorOverStated">RMS of (error ÷ stated standard error): 1 where errors are as large as stated.</param>
/// <param name="Flagged">Cells flagged as unusable.</param>
/// <param name="LostUnflagged">Cells that truth calls lost in glare or clipping and that were not flagged.</param>
/// <param name="FastestFullMark">Whether the recommended cell is one of the truth's.</param>
/// <param name="Darkest">Whether the recommended cell is within 1 % of the strongest mark.</param>
internal sealed record EngravedResult(
    double SeenRms, double SurfaceRms, double Spearman, double ErrorOverStated, int Flagged, int LostUnflagged,
    Pick FastestFullMark, Pick Darkest)
{
    /// <summary>Share of the cells that lie within twice the stated error, what all cells share included.</summary>
    public required double Within { get; init; }

    /// <summary>Mirrored light beyond this share of what reaches the lens, and the cell is lost.</summary>
    private const double LostShare = 0.5;

    private const double MostRms = 0.015;

    /// <summary>Where a series told the tone curve.</summary>
    private const double MostRmsOfSeries = 0.02;

    /// <summary>Cells that lie within twice what is stated for them, the error that all share included.</summary>
    private const double LeastWithin = 0.95;

    private const double LeastSpearman = 0.98;

    public static EngravedResult Of(Reading reading, Truth truth, IReadOnlyList<(CellReading Seen, TruthCell True)> pairs)
    {
        (CellReading Seen, TruthCell True)[] usable =
            [.. pairs.Where(pair => pair.Seen.Darkness is not null && !IsFlagged(pair.Seen) && pair.True.RatioSeen is > 0)];
        double[] seen = [.. usable.Select(pair => -Math.Log10(pair.True.RatioSeen!.Value))];
        double[] surface = [.. usable.Select(pair => -Math.Log10(pair.True.RatioY!.Value))];
        double shared = reading.Photos.Max(photo => photo.Quality?.DarknessScaleError) ?? 0;
        double[] found = [.. usable.Select(pair => pair.Seen.Darkness!.Value)];
        return new(
            Figures.Rms(found.Select((value, i) => value - seen[i])),
            Figures.Rms(found.Select((value, i) => value - surface[i])),
            found.Length < 3 ? double.NaN : Figures.Spearman(found, seen),
            Figures.Rms(usable.Select((pair, i) => (found[i] - seen[i]) / Math.Max(pair.Seen.Darkness!.StandardError, 1e-4))),
            pairs.Count(pair => IsFlagged(pair.Seen)),
            pairs.Count(pair => IsLost(pair.True) && !IsFlagged(pair.Seen)),
            Pick.Of(reading, Goal.FastestFullMark,
                cell => Same(cell, truth.Best.Fastest95) || (truth.Best.Fastest95Near ?? []).Any(near => Same(cell, near))),
            Pick.Of(reading, Goal.Darkest, cell => ContrastOf(cell) >= 0.99 * truth.Cells.Max(other => other.LawContrast)))
        {
            Within = usable.Length == 0 ? 1 : usable.Where((pair, i) => Math.Abs(found[i] - seen[i])
                <= 2 * double.Hypot(pair.Seen.Darkness!.StandardError, shared * found[i])).Count() / (double)usable.Length,
        };

        double? ContrastOf(CellAddress cell) => truth.Cells.First(one => one.Row == cell.Row && one.Column == cell.Column).LawContrast;
    }

    public IEnumerable<string> Misses(bool isPlainSrgb, bool isSeries)
    {
        if (isPlainSrgb && !(SeenRms <= MostRms)) yield return $"darkness {SeenRms:F4} RMS off";
        if (isSeries && !(SeenRms <= MostRmsOfSeries)) yield return $"darkness {SeenRms:F4} RMS off";
        if (!(Within >= LeastWithin)) yield return $"only {Within:P0} of the cells within twice the stated error";
        if (!isPlainSrgb && !(Spearman >= LeastSpearman)) yield return $"Spearman {Spearman:F3}";
        if (LostUnflagged > 0) yield return $"{LostUnflagged} lost cells are not flagged";
        if (FastestFullMark.IsMissed) yield return $"fastest full mark: {FastestFullMark}";
        if (Darkest.IsMissed) yield return $"darkest: {Darkest}";
    }

    private static bool IsFlagged(CellReading cell) => cell.Flags.Any(CellFlag.IsDisqualifying);

    private static bool IsLost(TruthCell cell) =>
        Math.Max(cell.GlareShare, cell.RingGlareShare) > LostShare || Math.Max(cell.ClippedShare, cell.RingClippedShare) > LostShare;

    private static bool Same(CellAddress cell, int[]? place) => place is [int row, int column] && row == cell.Row && column == cell.Column;
}
