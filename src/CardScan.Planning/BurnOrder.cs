using CardScan.Model;

namespace CardScan.Planning;

/// <summary>
/// The order in which cells are burned: shuffled, so that heat does not pile up in neighbours and drift of the machine does not
/// look like an effect of a setting.
/// </summary>
internal static class BurnOrder
{
    /// <summary>
    /// Places in the list of cells. Cells of one focus follow each other, the lowest first: turning back and forth would add
    /// backlash.
    /// </summary>
    /// <param name="plan">The plan.</param>
    /// <param name="seed">The same seed gives the same order, on any machine.</param>
    internal static ValueList<int> Of(Plan plan, int seed)
    {
        SplitMix64 chance = new(seed);
        return Enumerable.Range(0, plan.Cells.Count)
            .GroupBy(i => plan.SettingsOf(plan.Cells[i]).FocusOffsetMm)
            .OrderBy(group => group.Key)
            .SelectMany(group => Spread(Shuffled([.. group], chance), plan.Cells))
            .ToValueList();
    }

    private static int[] Shuffled(int[] items, SplitMix64 chance)
    {
        for (int i = items.Length - 1; i > 0; i--)
        {
            int j = chance.Below(i + 1);
            (items[i], items[j]) = (items[j], items[i]);
        }

        return items;
    }

    /// <summary>
    /// Parts neighbours that the shuffle put one after the other, by exchanging one of them, where a small grid leaves a way.
    /// </summary>
    private static int[] Spread(int[] order, ValueList<Cell> cells)
    {
        // An exchange can only lessen the clashes, so this ends; what is left after it no single exchange parts.
        bool isBetter = true;
        while (isBetter)
        {
            isBetter = false;
            for (int i = 1; i < order.Length; i++)
            {
                isBetter |= AreNeighbours(cells[order[i - 1]], cells[order[i]])
                    && (TryPart(order, cells, i) || TryPart(order, cells, i - 1));
            }
        }

        return order;
    }

    private static bool TryPart(int[] order, ValueList<Cell> cells, int i)
    {
        for (int j = 0; j < order.Length; j++)
        {
            int before = Clashes(order, cells, i, j);
            (order[i], order[j]) = (order[j], order[i]);
            if (Clashes(order, cells, i, j) < before) return true;
            (order[i], order[j]) = (order[j], order[i]);
        }

        return false;
    }

    private static int Clashes(int[] order, ValueList<Cell> cells, int i, int j)
    {
        return ((int[])[i, i + 1, j, j + 1]).Distinct().Count(IsClash);

        bool IsClash(int k) => k > 0 && k < order.Length && AreNeighbours(cells[order[k - 1]], cells[order[k]]);
    }

    private static bool AreNeighbours(Cell a, Cell b) => Math.Abs(a.Row - b.Row) <= 1 && Math.Abs(a.Column - b.Column) <= 1;

    /// <summary>Random numbers that no version of the runtime can change under a recorded seed.</summary>
    /// <remarks>
    /// Source: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014 (constants from
    /// memory).
    /// </remarks>
    private sealed class SplitMix64(int seed)
    {
        private ulong _state = unchecked((ulong)seed);

        /// <summary>0 to below the bound; the bias of the remainder is far below any grid's size.</summary>
        internal int Below(int bound)
        {
            unchecked
            {
                ulong z = _state += 0x9E3779B97F4A7C15;
                z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
                z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
                return (int)((z ^ (z >> 31)) % (ulong)bound);
            }
        }
    }
}
