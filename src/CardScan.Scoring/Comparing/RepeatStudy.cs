using CardScan.Language;
using CardScan.Model;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Comparing;

/// <summary>Several readings of one engraved card: how well the measuring repeats itself.</summary>
internal static class RepeatStudy
{
    /// <summary>Why these are no repeats, or null.</summary>
    public static Refusal? Fault(IReadOnlyList<LabelledReading> repeats)
    {
        if (repeats.Count == 0) return null;
        if (repeats.Count < 2) return Refusal.OfInput(Codes.RepeatsFew);
        Plan plan = repeats[0].Reading.Plan;
        if (plan.Process == Process.Cut) return Refusal.OfInput(Codes.RepeatsCut, ("first", repeats[0].Label));
        if (repeats.FirstOrDefault(other =>
            other.Reading.Plan.Number != plan.Number || !CellDifferences.HaveSameSettings(plan, other.Reading.Plan)) is { } foreign)
            return Refusal.OfInput(Codes.RepeatsOtherCard, ("first", repeats[0].Label), ("second", foreign.Label));
        if (CardComparer.SamePhoto(repeats) is { } pair)
            return Refusal.OfInput(Codes.RepeatsSamePhoto, ("first", pair.First), ("second", pair.Second));
        return Common(repeats).Length < 3 ? Refusal.OfInput(Codes.RepeatsFewCells) : null;
    }

    /// <summary>What the repeats tell; null where there are none.</summary>
    /// <param name="repeats">Readings without a <see cref="Fault"/>.</param>
    public static Repeatability? Of(IReadOnlyList<LabelledReading> repeats)
    {
        if (repeats.Count == 0) return null;
        double[][] table = Common(repeats);
        IntraclassCorrelation correlation = new(table);
        double?[] lnRatios =
            [0, .. repeats.Skip(1).Select(other => EngravedPair.LnRatio(repeats[0].Reading, other.Reading))];
        return new(repeats.Count, table.Length, Math.Sqrt(correlation.WithinMeanSquare), correlation.Single(), correlation.Agreement())
        {
            LnRelativeDoseDeviation = lnRatios.All(ln => ln is not null) ? lnRatios.Select(ln => ln!.Value).StandardDeviation() : null,
        };
    }

    /// <summary>Darkness of the cells that every reading measured: cells × readings.</summary>
    private static double[][] Common(IReadOnlyList<LabelledReading> repeats)
    {
        ILookup<(int, int), double>[] tables = [.. repeats.Select(repeat => repeat.Reading.Cells
            .Where(cell => cell.Darkness is not null && !cell.Flags.Any(CellFlag.IsDisqualifying))
            .ToLookup(cell => (cell.Row, cell.Column), cell => cell.Darkness!.Value))];
        return [.. tables[0].Select(cell => cell.Key).Where(key => tables.All(table => table.Contains(key)))
            .Select(key => tables.Select(table => table[key].First()).ToArray())];
    }
}
