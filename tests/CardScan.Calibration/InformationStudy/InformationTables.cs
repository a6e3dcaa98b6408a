using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>The tables of the information study, a row a law, and the first card's size.</summary>
internal static class InformationTables
{
    public static IEnumerable<FigureTable> Of(IReadOnlyCollection<(SizedLaw Law, InformationResult[] Cards)> results)
    {
        foreach (Process process in new[] { Process.Engrave, Process.Cut })
        {
            (SizedLaw Law, InformationResult[] Cards)[] some = [.. results.Where(one => one.Law.Law.Process == process)];
            if (some.Length == 0) continue;
            string name = process == Process.Engrave ? "Engraved" : "Cut";
            yield return new($"{name} cards: half width of the limit by the law itself, percent of power, means",
                [
                    "cards", "planned about a limit", "after one", "with the first again", "with the planned card",
                    "with the best there could be", "planned over again", "best over again"
                ],
                [.. some.GroupBy(one => $"all laws, {one.Law.Size}")
                    .Concat(some.GroupBy(one => one.Law.Name)).Select(Row).OfType<string[]>()]);
            yield return new($"{name} cards: plans that go further on",
                ["cards", "plans", "the answer lies inside"],
                [.. some.SelectMany(one => one.Cards.Where(card => card.Now is null && card.Code != "next-centred")
                    .Select(card => (Name: $"{one.Law.Name}: {card.Code}", card)))
                    .GroupBy(one => one.Name)
                    .Select(group => (string[])[group.Key, $"{group.Count()}", $"{group.Count(one => one.card.HoldsTheAnswer)}"])]);
        }
    }

    private static string[]? Row(IGrouping<string, (SizedLaw Law, InformationResult[] Cards)> group)
    {
        InformationResult[] some =
            [.. group.SelectMany(one => one.Cards).Where(card => card is { Now: not null, Best: < double.PositiveInfinity })];
        if (some.Length == 0) return null;
        double again = some.Average(card => card.Again!.Value), planned = some.Average(card => card.Planned!.Value),
            best = some.Average(card => card.Best!.Value);
        return [group.Key, $"{some.Length}", $"{some.Average(card => card.Now!.Value):0.0}", $"{again:0.0}", $"{planned:0.0}",
            $"{best:0.0}", $"{planned / again:0.00}", $"{best / again:0.00}"];
    }
}
