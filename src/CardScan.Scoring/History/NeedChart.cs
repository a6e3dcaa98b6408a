using CardScan.Model;

namespace CardScan.Scoring.History;

/// <summary>A card on a machine's chart.</summary>
/// <param name="Kind">What was burned: only cards of one kind are compared with each other.</param>
/// <param name="Need">The energy that it needed.</param>
public sealed record ChartedCard(string Kind, EnergyNeed Need);

/// <summary>Charts a machine's cards: an individuals chart with a running mean (EWMA).</summary>
/// <remarks>
/// docs/method/history.md. Limits come from the first cards: as many as say as much as <see cref="NeedHistory.LeastCards"/> of one kind.
/// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals) and 6.3.2.4 (EWMA); Montgomery, Introduction to Statistical
/// Quality Control, chapter 9 (exact limits of the EWMA).
/// </remarks>
public static class NeedChart
{
    private const double Sigmas = 3, Half = 0.5;

    /// <summary>Charts a machine's cards.</summary>
    /// <param name="cards">Cards of one machine and process in the order in which they were burned, since it was last changed.</param>
    /// <exception cref="ArgumentNullException">There is no list.</exception>
    public static NeedHistory Of(ValueList<ChartedCard> cards)
    {
        ArgumentNullException.ThrowIfNull(cards);
        int first = FirstCards(cards);
        Dictionary<string, KindMean> kinds = cards.Take(first).GroupBy(card => card.Kind)
            .ToDictionary(kind => kind.Key, kind => KindMean.Of([.. kind.Select(card => card.Need)]));
        int missing = Math.Max(0, NeedHistory.LeastCards - 1 - Repeats(kinds.Values.Select(kind => kind.Cards)));
        CardDeviation[] deviations = [.. cards.Select((card, i) => DeviationOf(card, kinds, isFirst: i < first))];
        if (missing > 0) return new(deviations.Select(each => each.Point).ToValueList(), missing, null);

        NeedSpread spread = NeedSpread.Of([.. deviations.Take(first).Where(each => each.Point is not null)]);
        RunningMean mean = new();
        NeedPoint?[] points = [.. deviations.Select((each, i) => each.Point is not { } point ? null
            : i < first ? point with { Limit = Sigmas * spread.OfCard(each, isFirst: true) }
            : point with { Limit = Sigmas * spread.OfCard(each, isFirst: false), Mean = mean.Add(each, spread) })];
        return new(points.ToValueList(), 0, ChangeIn(points, deviations, first, spread));
    }

    /// <summary>How many of the first cards the limits come from: all where they are too few.</summary>
    private static int FirstCards(ValueList<ChartedCard> cards)
    {
        HashSet<string> seen = [];
        int repeats = 0;
        foreach ((int i, ChartedCard card) in cards.Index())
            if (!seen.Add(card.Kind) && ++repeats == NeedHistory.LeastCards - 1) return i + 1;
        return cards.Count;
    }

    private static int Repeats(IEnumerable<int> cardsOfKinds) => cardsOfKinds.Sum(cards => cards - 1);

    private static CardDeviation DeviationOf(ChartedCard card, Dictionary<string, KindMean> kinds, bool isFirst)
    {
        bool isKnown = kinds.TryGetValue(card.Kind, out KindMean? kind) && (!isFirst || kind.Cards > 1);
        if (!isKnown) return new(null, card.Kind, 0);
        EnergyNeed need = card.Need.At(kind!.SpeedMmPerMin);
        return new(new(need.LnEnergy - kind.LnEnergy, need.StandardError), card.Kind, kind.Cards);
    }

    /// <summary>The change that the newest card shows: it began after the running mean lay on the other side.</summary>
    private static NeedChange? ChangeIn(NeedPoint?[] points, CardDeviation[] deviations, int first, NeedSpread spread)
    {
        int[] told = [.. Enumerable.Range(first, points.Length - first).Where(i => points[i] is not null)];
        if (told.Length == 0 || told[^1] != points.Length - 1 || points[^1] is not { } newest) return null;
        if (!newest.IsUnexplained) return null;
        double side = Math.Sign(newest.IsDrifting ? newest.Mean!.Value.Ln : newest.Ln);
        int[] since = newest.IsDrifting
            ? [.. told.Reverse().TakeWhile(i => Math.Sign(points[i]!.Mean!.Value.Ln) == side).Reverse()]
            : [told[^1]];
        // The running mean lags: cards that it still carries over from before lie on the other side themselves.
        since = [.. since.SkipWhile(i => Math.Sign(points[i]!.Ln) != side)];
        // A material that did not change is no sign of the machine, on whichever side of 0 it happens to lie.
        int[][] clear = [.. since.GroupBy(i => deviations[i].Kind).Select(kind => kind.ToArray()).Where(IsClear)];
        if (clear.Length > 0) since = [.. clear.SelectMany(kind => kind).Order()];
        CardDeviation[] changed = [.. since.Select(i => deviations[i])];
        (double ln, double error) = spread.MeanOf(changed);
        // A card that is back where it was before ends the change.
        if (!newest.IsOutside && Math.Abs(newest.Ln) < Half * Math.Abs(ln)) return null;
        double half = NormalQuantile.TwoSided95 * error;
        Interval energy = new("energyFactor", Math.Exp(ln), Math.Exp(ln - half), Math.Exp(ln + half));
        return new(since[0], energy, Math.Max(1, clear.Length));

        bool IsClear(int[] kind)
        {
            (double mean, double chance) = spread.MeanOf([.. kind.Select(i => deviations[i])]);
            return side * mean > NormalQuantile.TwoSided95 * chance;
        }
    }

    /// <summary>What the first cards of a kind needed.</summary>
    private sealed record KindMean(double LnEnergy, double SpeedMmPerMin, int Cards)
    {
        public static KindMean Of(EnergyNeed[] needs)
        {
            double speed = Math.Exp(needs.Average(need => Math.Log(need.SpeedMmPerMin)));
            return new(needs.Average(need => need.At(speed).LnEnergy), speed, needs.Length);
        }
    }
}
