namespace CardScan.Scoring.Cutting;

/// <summary>
/// Where a card's cells may divide into those that want energy and those that had too much: a first guess, by order alone.
/// </summary>
/// <param name="Coordinate">What grows towards the slow end: energy, or time.</param>
/// <param name="From">Cells of this much or more lie beyond the split.</param>
/// <param name="Explains">Contradictions of the order of doses that it takes away.</param>
internal sealed record SlowSplit(Func<CutCell, double> Coordinate, double From, int Explains)
{
    public bool IsBeyond(CutCell cell) => Coordinate(cell) >= From;

    /// <summary>The split of speeds or of energies that leaves the fewest contradictions; null where none takes any away.</summary>
    public static SlowSplit? On(CutCard card)
    {
        CutCell[] held = [.. card.Cells.Where(cell => cell.IsHeldFirmly)], through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        // Cells that came through with no more energy speak against the held ones.
        int[] against = [.. held.Select(cell => through.Count(other => other.HasNoMoreDoseThan(cell.Settings)))];
        SlowSplit best = ((Func<CutCell, double>[])[cell => cell.SecondsPerMetre, cell => cell.LnEnergy])
            .Select(coordinate => Best(coordinate, held, through, against)).MaxBy(split => split.Explains)!;
        return best.Explains > 0 ? best : null;
    }

    private static SlowSplit Best(Func<CutCell, double> coordinate, CutCell[] held, CutCell[] through, int[] against)
    {
        (double At, int Against)[] lost = [.. held.Select((cell, i) => (coordinate(cell), against[i])).Where(one => one.Item2 > 0)];
        double[] kept = [.. through.Select(coordinate)];
        // A cell that came through beyond the split is contradicted by those that would have closed before it.
        int[] cost = [.. kept.Select(at => lost.Count(one => one.At < at))];
        return lost.Select(one => one.At).Distinct()
            .Select(from => new SlowSplit(coordinate, from,
                lost.Where(one => one.At >= from).Sum(one => one.Against)
                    - kept.Index().Where(one => one.Item >= from).Sum(one => cost[one.Index])))
            .DefaultIfEmpty(new(coordinate, double.PositiveInfinity, 0))
            .MaxBy(split => split.Explains)!;
    }
}
