using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Three cards in a row, each planned by what the ones before it told, and scored together.</summary>
internal static class ChainRun
{
    private const int Cards = 3;

    private static readonly GridSize[] FirstSizes = [new(4, 4), new(6, 6)];

    /// <summary>From card to card of one material doses differ by a standard deviation between these.</summary>
    private static readonly (double From, double To) DoseDeviation = (0.01, 0.02);

    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        SizedLaw[] laws =
            [.. SizedLaw.All.Where(law => FirstSizes.Contains(law.Size) && law.Name.Contains(arguments.Only) && !law.Law.HasGaps)];
        Progress progress = new(laws.Length);
        List<(SizedLaw Law, LawResult[][] Chains)> results = [];
        foreach (SizedLaw law in laws)
        {
            progress.Begins(law.Name);
            LawResult[][] chains = new LawResult[arguments.Cards][];
            Parallel.For(0, arguments.Cards, i => chains[i] = Judged(law, arguments.Seed, i));
            results.Add((law, chains));
        }

        progress.Ends(arguments.Cards);
        return ChainTables.Of(results, Cards);
    }

    private static LawResult[] Judged(SizedLaw law, int seed, int index) => Breakdown.Instead<LawResult[]>(
        $"chain, {law.Name}, seed {seed}, card {index}", () => [.. Run(law, seed, index)],
        fault => [.. Enumerable.Repeat(LawResult.Broken(fault), Cards)]);

    /// <summary>
    /// What is stated after each card; a chain ends where the scoring knows nothing to burn next, and its last word
    /// then stands for the rest.
    /// </summary>
    private static IEnumerable<LawResult> Run(SizedLaw law, int seed, int index)
    {
        Chance chance = Chance.Of($"{seed}/chain/{law.Name}/{index}");
        TrueCard first = law.Law.Draw(law.Size, chance);
        double deviation = chance.Between(DoseDeviation.From, DoseDeviation.To);
        ChainCards chain = new(first.With(CardChance.Draw(deviation, chance)), chance);
        LawResult last = LawJudge.Of(chain);
        yield return last;
        for (int i = 1; i < Cards; i++)
        {
            Outcome<NextRanges> next = chain.Next(new());
            if (!next.IsRefused)
            {
                chain.Burn(next.Value, CardChance.Draw(deviation, chance), chance);
                last = LawJudge.Of(chain);
            }

            yield return last;
        }
    }
}
