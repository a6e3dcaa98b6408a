using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>What the planned card teaches, against the first card burned again.</summary>
internal static class NextRun
{
    private static readonly GridSize[] Sizes = [new(4, 4), new(6, 6)];

    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        SizedLaw[] laws = [.. SizedLaw.All.Where(law => Sizes.Contains(law.Size) && law.Name.Contains(arguments.Only) && !law.Law.HasGaps)];
        Progress progress = new(laws.Length);
        List<(SizedLaw, NextResult?[])> results = [];
        foreach (SizedLaw law in laws)
        {
            progress.Begins(law.Name);
            NextResult?[] cards = new NextResult?[arguments.Cards];
            Parallel.For(0, arguments.Cards, i => cards[i] = Breakdown.Instead($"next, {law.Name}, seed {arguments.Seed}, card {i}",
                () => Run(law, arguments.Seed, i), _ => null));
            results.Add((law, cards));
        }

        progress.Ends(arguments.Cards);
        return NextTables.Of(results);
    }

    private static NextResult? Run(SizedLaw law, int seed, int index)
    {
        Chance chance = Chance.Of($"{seed}/next/{law.Name}/{index}");
        TrueCard first = law.Law.Draw(law.Size, chance);
        ChainCards planned = new(first, chance);
        NextCardOptions options = new() { Rows = first.Grid.SpeedsMmPerMin.Length, Columns = first.Grid.PowersPercent.Length };
        Outcome<NextRanges> next = planned.Next(options);
        if (next.IsRefused || next.Value.Learning is not { } learning) return null;

        double speed = learning.SpeedMmPerMin;
        ChainCards again = planned.Copy();
        KnownLimit? before = LimitAt(planned);
        again.BurnAgain(CardChance.None, chance);
        planned.Burn(next.Value, CardChance.None, chance);
        return new(learning.TogetherPercent, before, LimitAt(planned), LimitAt(again));

        KnownLimit? LimitAt(ChainCards cards) => KnownLimit.At(cards.Scored, cards.Truth, speed);
    }
}
