namespace CardScan.Calibration;

/// <summary>One law at one size, and its cards.</summary>
internal sealed record SizedLaw(LawCase Law, GridSize Size)
{
    public string Name => Law.NameAt(Size);

    /// <summary>Every law of both processes at every size.</summary>
    public static IEnumerable<SizedLaw> All =>
        from law in EngraveCases.All.Concat<LawCase>(CutCases.All) from size in GridSize.All select new SizedLaw(law, size);

    /// <summary>The same seed and index give the same card and reading, whatever else is run.</summary>
    public (TrueCard Card, Model.Reading Reading) Draw(int seed, int index)
    {
        Chance chance = Chance.Of($"{seed}/{Name}/{index}");
        TrueCard card = Law.Draw(Size, chance);
        return (card, card.Read(chance));
    }

    public LawResult[] Run(int cards, int seed)
    {
        LawResult[] results = new LawResult[cards];
        Parallel.For(0, cards, i =>
        {
            (TrueCard card, Model.Reading reading) = Draw(seed, i);
            results[i] = Judged(card, reading, seed, i);
        });
        return results;
    }

    public LawResult Judged(TrueCard card, Model.Reading reading, int seed, int index) =>
        Breakdown.Instead($"--only \"{Name}\" --seed {seed} --card {index}", () => LawJudge.Of(card, reading), LawResult.Broken);
}
