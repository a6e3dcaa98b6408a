using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>Two cards of the same settings, cell by cell: later less first.</summary>
/// <remarks>
/// The error of a difference holds both readings' stated errors and, where curves were fitted, both cards' own chance from
/// cell to cell; it is never smaller than the measuring repeats itself. docs/method/comparing.md, "Cell by cell".
/// </remarks>
internal static class CellDifferences
{
    private const double Level = 0.05;

    /// <summary>True where every cell of the one was burned as the same cell of the other.</summary>
    public static bool HaveSameSettings(Plan first, Plan later) =>
        first.Process == later.Process && first.Cells.Count == later.Cells.Count
        && first.Cells.All(cell => later.Cells.FirstOrDefault(other => other.Row == cell.Row && other.Column == cell.Column) is { } twin
            && AreSame(first.SettingsOf(cell), later.SettingsOf(twin)));

    /// <summary>The cells that both cards have; empty where the settings differ.</summary>
    /// <param name="first">The reference.</param>
    /// <param name="later">The other.</param>
    /// <param name="estimate">What the models found, for the cards' own chance.</param>
    /// <param name="withinDeviation">Standard deviation of a cell's darkness from photo to photo; zero where it is not known.</param>
    public static ValueList<CellDifference> Of(Reading first, Reading later, PairEstimate estimate, double withinDeviation)
    {
        if (!HaveSameSettings(first.Plan, later.Plan)) return [];
        ILookup<(int, int), CellReading> others = later.Cells.ToLookup(cell => (cell.Row, cell.Column));
        (CellReading First, CellReading Later)[] pairs = [.. first.Cells
            .Select(cell => (cell, others[(cell.Row, cell.Column)].FirstOrDefault()!))
            .Where(pair => pair.Item2 is not null && IsUsable(pair.cell) && IsUsable(pair.Item2))];
        return first.Plan.Process == Process.Cut
            ? pairs.Select(pair => OfShares(pair.First, pair.Later)).OfType<CellDifference>().ToValueList()
            : OfDarkness([.. pairs.Where(pair => pair.First.Darkness is not null && pair.Later.Darkness is not null)],
                estimate, withinDeviation);
    }

    private static ValueList<CellDifference> OfDarkness((CellReading First, CellReading Later)[] pairs, PairEstimate estimate,
        double withinDeviation)
    {
        double[] errors = [.. pairs.Select(pair => Math.Max(
            double.Hypot(ErrorOf(pair.First, estimate.Deviations?.First), ErrorOf(pair.Later, estimate.Deviations?.Later)),
            Math.Sqrt(2) * withinDeviation))];
        double[] differences = [.. pairs.Select(pair => pair.Later.Darkness!.Value - pair.First.Darkness!.Value)];
        double[] adjusted = Holm.Adjust([.. differences.Zip(errors, TwoSided)]);
        return pairs.Select((pair, i) => new CellDifference(
            pair.First.Row, pair.First.Column, Rounded((pair.First.Darkness!.Value + pair.Later.Darkness!.Value) / 2),
            Rounded(differences[i]))
        {
            Interval = new("darkness", Rounded(differences[i]), Rounded(differences[i] - NormalQuantile.TwoSided95 * errors[i]),
                Rounded(differences[i] + NormalQuantile.TwoSided95 * errors[i])),
            Probability = Rounded(adjusted[i]),
            IsDifferent = adjusted[i] < Level,
            DeltaE2000Difference = pair.First.DeltaE2000 is { } a && pair.Later.DeltaE2000 is { } b ? Rounded(b.Value - a.Value) : null,
        }).ToValueList();
    }

    /// <summary>A stated error, or the whole chance of the card's curve where there is one; as an error of darkness.</summary>
    private static double ErrorOf(CellReading cell, IReadOnlyDictionary<CellAddress, double>? deviations)
    {
        double stated = cell.Darkness!.StandardError;
        if (deviations is null || !deviations.TryGetValue(new(cell.Row, cell.Column), out double deviation)) return stated;
        // dD = d(strength) / (ln 10 · Y_cell / Y_bare)
        return Math.Max(stated, deviation / (Math.Log(10) * Math.Pow(10, -cell.Darkness.Value)));
    }

    private static double TwoSided(double difference, double error) =>
        error > 0 ? 2 * Normal.CDF(0, 1, -Math.Abs(difference) / error) : difference == 0 ? 1 : 0;

    private static CellDifference? OfShares(CellReading first, CellReading later)
    {
        if (OpenShare.Of(first) is not { } a || OpenShare.Of(later) is not { } b) return null;
        double difference = Rounded(b.Value - a.Value);
        return new(first.Row, first.Column, Rounded((a.Value + b.Value) / 2), difference)
        {
            Interval = new("openShare", difference, Rounded(b.Low - a.High), Rounded(b.High - a.Low))
        };
    }

    private static bool IsUsable(CellReading cell) => !cell.Flags.Any(CellFlag.IsDisqualifying);

    private static bool AreSame(CellSettings a, CellSettings b) =>
        (a.PowerPercent, a.SpeedMmPerMin, a.Passes, a.FocusOffsetMm, a.LineIntervalMm)
        == (b.PowerPercent, b.SpeedMmPerMin, b.Passes, b.FocusOffsetMm, b.LineIntervalMm);

    private static double Rounded(double value) => double.Round(value, 5);

    /// <summary>How much of a cut cell's outline is open.</summary>
    /// <param name="Value">Share of what was judged.</param>
    /// <param name="Low">Share of the whole outline, were all that no photo shows held.</param>
    /// <param name="High">The same, were all of that open.</param>
    private sealed record OpenShare(double Value, double Low, double High)
    {
        /// <summary>The share of a cell, its four sides counted alike; null where none was judged.</summary>
        public static OpenShare? Of(CellReading cell)
        {
            if (cell.Sides is not { } sides) return null;
            SideReading[] judged = [.. new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }
                .Where(side => side.State != SideState.Unseen && side.OpenFraction is not null)];
            double seen = judged.Sum(side => side.SeenFraction ?? 1) / 4,
                open = judged.Sum(side => side.OpenFraction!.Value * (side.SeenFraction ?? 1)) / 4;
            return seen > 0 ? new(open / seen, open, open + 1 - seen) : null;
        }
    }
}
