using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A run of the law study as the command line asks for it.</summary>
internal static class LawRun
{
    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        SizedLaw[] laws = [.. SizedLaw.All.Where(law => law.Name.Contains(arguments.Only))];
        if (arguments.IsList) return List(laws);
        if (arguments.Card is { } card) return Single(laws, arguments, card);

        Progress progress = new(laws.Length);
        List<(SizedLaw, LawResult[])> results = [];
        foreach (SizedLaw law in laws)
        {
            progress.Begins(law.Name);
            LawResult[] cards = law.Run(arguments.Cards, arguments.Seed);
            results.Add((law, cards));
            if (arguments.ShowsBad) ShowBad(law, arguments.Seed, cards);
        }

        progress.Ends(arguments.Cards);
        return LawTables.Of(results);
    }

    private static FigureTable[] List(SizedLaw[] laws)
    {
        foreach (SizedLaw law in laws) Console.WriteLine(law.Name);
        return [];
    }

    private static FigureTable[] Single(SizedLaw[] laws, StudyArguments arguments, int index)
    {
        if (arguments.SaveFile is not null && laws.Length != 1)
        {
            Console.Error.WriteLine($"--only \"{arguments.Only}\" names {laws.Length} cases: one file holds one reading.");
            return [];
        }

        foreach (SizedLaw law in laws)
        {
            (TrueCard card, Reading reading) = law.Draw(arguments.Seed, index);
            Console.WriteLine(OneCard.InWords(law, arguments.Seed, index, law.Judged(card, reading, arguments.Seed, index)));
            if (arguments.SaveFile is { } file) File.WriteAllText(file, CardJson.Write(reading));
        }

        return [];
    }

    private static void ShowBad(SizedLaw law, int seed, LawResult[] cards)
    {
        foreach ((int index, LawResult result) in cards.Index().Where(card => OneCard.IsBad(card.Item)))
            Console.WriteLine(OneCard.InWords(law, seed, index, result));
    }
}
