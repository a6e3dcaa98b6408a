using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Cells that were held although they had energy enough, among those that had: knots, glue, warp, supports.</summary>
/// <param name="Held">The cells that were held.</param>
/// <param name="Enough">
/// The cells that had energy enough and of which four sides tell whether they came free, the held ones included.
/// </param>
internal sealed record HeldAnyway(ValueList<CutCell> Held, ValueList<CutCell> Enough)
{
    /// <summary>Energy is enough where all four sides are through with this probability.</summary>
    private const double EnergyEnough = 0.9;

    /// <summary>
    /// A held cell counts where too little energy, and too much of it, are less than half as likely to have held it as anything else.
    /// </summary>
    private const double OtherCause = 0.5;

    /// <summary>
    /// Where failures get rarer with more energy, those near a setting tell of it: up to a quarter more energy than its own.
    /// </summary>
    private const double NearLnEnergy = 0.25;

    /// <summary>Probability that nothing of this holds a cell.</summary>
    public Estimate None { get; } = NoneOf(Held, Enough.Count);

    /// <summary>
    /// The same at one cell's setting: by all cells, or by those with not much more energy where these were held more often.
    /// </summary>
    public Estimate NoneAt(CutCell cell)
    {
        if (Held.Count == 0) return None;
        double most = cell.LnEnergy + NearLnEnergy;
        Estimate near = NoneOf(Held.Where(held => held.LnEnergy <= most).ToValueList(), Enough.Count(other => other.LnEnergy <= most));
        return near.Value < None.Value ? near : None;
    }

    public static HeldAnyway On(CutCard card, CutModel fast, SlowEnd? slow)
    {
        ValueList<CutCell> enough =
            card.Cells.Where(cell => (cell.IsSeenThrough || IsHeldBySomething(cell)) && HasEnergyEnough(cell)).ToValueList();
        return new(enough.Where(cell => !cell.IsSeenThrough).ToValueList(), enough);

        bool HasEnergyEnough(CutCell cell) => fast.Through(cell.Point) >= EnergyEnough
            && (slow is null || card.IsEndDoubtful || slow.StillThrough(cell.Point) >= EnergyEnough);

        bool IsHeldBySomething(CutCell cell) =>
            cell.Sides.Any(side => !side.IsThrough && !side.IsBridged
                && side.FastVote < OtherCause && (card.IsEndDoubtful || side.SlowVote < OtherCause));
    }

    /// <summary>Neighbours have one cause: so many fewer cells tell of the rate.</summary>
    private static Estimate NoneOf(ValueList<CutCell> held, int cells)
    {
        int causes = GroupsOf(held);
        return FailureRate.NoneNext(causes, causes == 0 ? cells : (double)cells * causes / held.Count);
    }

    /// <summary>Groups of cells that touch by a side or a corner.</summary>
    private static int GroupsOf(ValueList<CutCell> cells)
    {
        HashSet<CutCell> left = [.. cells];
        int groups = 0;
        while (left.Count > 0)
        {
            groups++;
            Queue<CutCell> next = new([left.First()]);
            while (next.TryDequeue(out CutCell? cell))
            {
                if (!left.Remove(cell)) continue;
                foreach (CutCell other in left.Where(other => Touch(cell, other))) next.Enqueue(other);
            }
        }

        return groups;
    }

    private static bool Touch(CutCell a, CutCell b) =>
        a.Card == b.Card && Math.Abs(a.Address.Row - b.Address.Row) <= 1 && Math.Abs(a.Address.Column - b.Address.Column) <= 1;
}
