using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Calibration;

/// <summary>How often a trend over the place is told, and the right way round.</summary>
internal static class PlaceRun
{
    /// <summary>Code of the advice that tells of one.</summary>
    private const string TrendCode = "place-trend";

    private static readonly string[] Corners = ["top left", "top right", "bottom left", "bottom right"];

    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        (PlaceCases.Group Group, GridSize Size)[] cases =
            [.. from one in PlaceCases.Groups
                from size in PlaceCases.Sizes
                where $"{one.Name}, {size}".Contains(arguments.Only)
                select (one, size)];
        Progress progress = new(cases.Length);
        List<(string Group, string Size, bool HasField, Told[] Cards)> results = [];
        foreach ((PlaceCases.Group group, GridSize size) in cases)
        {
            progress.Begins($"{group.Name}, {size}");
            results.Add((group.Name, size.ToString(), group.HasField, Run(group, size, arguments)));
        }

        progress.Ends(arguments.Cards);
        string[] sizes = [.. PlaceCases.Sizes.Select(size => size.ToString())];
        yield return new("Trend over the place: told, and the right corner or side named; of even cards false alarms; percent",
            ["cards", "a size", .. sizes, "all sizes"],
            [.. results.GroupBy(one => one.Group).Select(group => (string[])
                [
                    group.Key, $"{group.Max(one => one.Cards.Length)}",
                    .. sizes.Select(size =>
                        InWords([.. group.Where(one => one.Size == size).SelectMany(one => one.Cards)], group.First().HasField)),
                    InWords([.. group.SelectMany(one => one.Cards)], group.First().HasField),
                ])]);
    }

    /// <summary>The cards of a group are shared out among its laws.</summary>
    private static Told[] Run(PlaceCases.Group cases, GridSize size, StudyArguments arguments)
    {
        int aLaw = (int)Math.Ceiling(arguments.Cards / (double)Math.Min(arguments.Cards, cases.Laws.Length));
        (LawCase Law, int Index)[] cards = [.. from law in cases.Laws from index in Enumerable.Range(0, aLaw) select (law, index)];
        Told[] told = new Told[cards.Length];
        Parallel.For(0, cards.Length, i =>
        {
            SizedLaw law = new(cards[i].Law, size);
            (TrueCard card, Reading reading) = law.Draw(arguments.Seed, cards[i].Index);
            string name = $"place, {law.Name}, seed {arguments.Seed}, card {cards[i].Index}";
            told[i] = Breakdown.Instead(name, () => Judge(card, CardScorer.Score(reading, ScoringOptions.Default)), _ => Told.Nothing);
        });
        return told;
    }

    private static Told Judge(TrueCard card, Reading scored)
    {
        if (scored.Advice.FirstOrDefault(advice => advice.Code == TrendCode) is not { } advice) return Told.Nothing;
        string named =
            Corners.FirstOrDefault(corner => advice.Message.Contains(corner, StringComparison.OrdinalIgnoreCase)) ?? advice.Message;
        string[] weak = PlaceCases.WeakWords(card.Field);
        return weak.Length > 0 && weak.All(word => named.Contains(word, StringComparison.OrdinalIgnoreCase)) ? Told.Right : Told.Wrong;
    }

    /// <summary>"60.0 right, 2.0 wrong"; of even cards "3.0 told".</summary>
    private static string InWords(Told[] told, bool hasField) =>
        told.Length == 0 ? "–"
        : hasField ? $"{Percent(told, Told.Right)} right, {Percent(told, Told.Wrong)} wrong"
        : $"{Percent(told, Told.Wrong)} told";

    private static string Percent(Told[] told, Told what) => $"{100.0 * told.Count(one => one == what) / told.Length:0.0}";

    private enum Told
    {
        Nothing,
        Right,
        Wrong,
    }
}
