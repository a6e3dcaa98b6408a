using CardScan.Model;

namespace CardScan.Robustness;

/// <summary>An engraved card's reading against the truth.</summary>
internal static class EngravedJudge
{
    /// <summary>A wrong contrast counts from this many of the cell's stated errors …</summary>
    private const double StatedErrors = 4;

    /// <summary>… and from this much of the bare material's luminance.</summary>
    private const double LeastContrastError = 0.05;

    /// <summary>The common stretch of all darkness may be this many of the photo's stated scale errors.</summary>
    private const double ScaleErrors = 2;

    /// <summary>Darkness below this tells too little of the stretch.</summary>
    private const double LeastDarkness = 0.15;

    /// <summary>A recommended full mark weaker than this share of the strongest is no chance any more.</summary>
    private const double LeastFullMark = 0.9;

    /// <summary>From this probability on a recommendation is a promise.</summary>
    private const double Promised = 0.8;

    private const double UsefulShare = 0.6;

    public static Verdict Judge(Recipe recipe, Reading reading)
    {
        (CellReading Seen, TrueMark True)[] usable = [.. reading.Cells.Zip(recipe.Truth.Marks)
            .Where(pair => pair.First.Darkness is not null && !pair.First.Flags.Any(CellFlag.IsDisqualifying))];
        double share = (double)usable.Length / reading.Cells.Count;
        Promise? fullMark = FullMarkOf(recipe, reading, usable);
        Verdict verdict = new()
        {
            Recipe = recipe,
            Outcome = share < UsefulShare ? Outcome.Little : Outcome.Useful,
            UsableShare = share,
            FullMark = fullMark
        };
        return verdict.With(
            WrongDarkness(reading, [.. usable.Where(pair => pair.Seen.Flags.Count == 0).Select(pair => (pair.Seen, pair.True.Darkness))])
                ?? WrongFullMark(fullMark));
    }

    /// <summary>
    /// A photo states two errors: one of each cell, and one that stretches all darkness alike. So the stretch is taken out
    /// first, and must itself keep to what is stated.
    /// </summary>
    private static Wrong? WrongDarkness(Reading reading, (CellReading Seen, double Darkness)[] usable)
    {
        double[] stretches = [.. usable.Where(pair => Math.Abs(pair.Darkness) > LeastDarkness)
            .Select(pair => pair.Seen.Darkness!.Value / pair.Darkness).Order()];
        double stretch = stretches.Length < 3 ? 1 : stretches[stretches.Length / 2];
        double stated = reading.Photos[0].Quality?.DarknessScaleError ?? 0;
        if (Math.Abs(stretch - 1) > ScaleErrors * stated)
            return new("stretch", $"all darkness is {stretch:F2} times the true one, stated within {stated:F2}");

        (CellReading Seen, double Error, double Allowed)[] errors =
            [.. usable.Select(pair => (pair.Seen, ContrastError(pair.Seen, stretch * pair.Darkness), Allowance(pair.Seen)))];
        if (errors.Length == 0) return null;
        (CellReading worst, double error, double allowed) = errors.MaxBy(cell => Math.Abs(cell.Error) / cell.Allowed);
        int wrong = errors.Count(cell => Math.Abs(cell.Error) > cell.Allowed);
        return wrong == 0 ? null : new("darkness",
            $"the contrast of {wrong} of {errors.Length} cells, worst ({worst.Row}, {worst.Column}), is {error:+0.000;-0.000} off "
                + $"where {allowed:F3} is allowed (all darkness stretched {stretch:F2} times)");
    }

    private static double ContrastError(CellReading seen, double darkness) => Math.Pow(10, -seen.Darkness!.Value) - Math.Pow(10, -darkness);

    /// <summary>Of a mark lighter than bare material the contrast exceeds 1, and 5 % is meant of its own luminance.</summary>
    private static double Allowance(CellReading seen) =>
        Math.Max(StatedErrors * seen.Contrast!.StandardError, LeastContrastError * Math.Max(1, Math.Pow(10, -seen.Darkness!.Value)));

    private static Promise? FullMarkOf(Recipe recipe, Reading reading, (CellReading Seen, TrueMark True)[] usable)
    {
        Recommendation? fullMark = reading.Recommendations.FirstOrDefault(one => one.Goal == Goal.FastestFullMark
            && one.Confidence >= Promised && one.Cell is not null);
        if (fullMark is null || usable.Length == 0) return null;
        int index = reading.Cells.ToList().FindIndex(cell => cell.Row == fullMark.Cell!.Row && cell.Column == fullMark.Cell.Column);
        TrueMark mark = recipe.Truth.Marks[index];
        return new(fullMark.Confidence!.Value, mark.Expected / usable.Max(pair => pair.True.Expected),
            Strength(mark.Darkness) / usable.Max(pair => Strength(pair.True.Darkness)));
    }

    private static Wrong? WrongFullMark(Promise? fullMark) =>
        fullMark is { TrueShare: < LeastFullMark }
            ? new("full-mark",
                $"the recommended full mark has {fullMark.TrueShare:P0} of the strongest mark, stated with {fullMark.Confidence:P0}")
            : null;

    private static double Strength(double darkness) => Math.Abs(1 - Math.Pow(10, -darkness));
}
