using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>The tables of the law study, a row a law.</summary>
internal static class LawTables
{
    private static readonly (double From, double Below)[] Bins = [(0, 0.8), (0.8, 0.9), (0.9, 0.95), (0.95, 0.99), (0.99, 1.01)];

    public static IEnumerable<FigureTable> Of(IReadOnlyCollection<(SizedLaw Law, LawResult[] Cards)> results)
    {
        (SizedLaw Law, LawResult[] Cards)[] all = [.. results];
        LawTally over = new("all laws of both processes", [.. all.SelectMany(one => one.Cards)], LawLimits.MissesOverAll);
        foreach (Process process in new[] { Process.Engrave, Process.Cut })
        {
            (SizedLaw Law, LawResult[] Cards)[] some = [.. all.Where(one => one.Law.Law.Process == process)];
            if (some.Length == 0) continue;
            LawTally[] rows = [.. By(some, one => one.Law.Name), Whole("all laws", some)];
            LawTally[] sizes = [.. By(some, one => one.Size.ToString())];
            string name = process == Process.Engrave ? "Engraved" : "Cut";
            yield return Catalogue($"{name} cards: the laws", [.. some.Select(one => one.Law.Law).DistinctBy(law => law.Name)]);
            yield return Settings($"{name} cards: settings by law, percent", process, process == Process.Cut ? [.. rows, over] : rows);
            yield return Settings($"{name} cards: settings by size, percent", process, sizes);
            yield return BySize(
                $"{name} cards: clear misses of the settings stated at 90 or more, percent, by law and size (settings)", some);
            yield return Reliability($"{name} cards: settings that reach the goal, percent, by the probability stated (settings)", rows);
            yield return Unburned($"{name} cards: settings between tested cells, percent", process, rows);
            yield return Intervals($"{name} cards: nominal 95 % intervals that hold the truth, percent", rows);
        }
    }

    private static IEnumerable<LawTally> By((SizedLaw Law, LawResult[] Cards)[] results, Func<SizedLaw, string> nameOf) =>
        results.GroupBy(one => nameOf(one.Law))
            .Select(group => new LawTally(group.Key, [.. group.SelectMany(one => one.Cards)], LawLimits.MissesOfALaw));

    private static LawTally Whole(string name, (SizedLaw Law, LawResult[] Cards)[] results) =>
        new(name, [.. results.SelectMany(one => one.Cards)], LawLimits.MissesOverAll);

    private static FigureTable Catalogue(string title, LawCase[] laws) =>
        new(title, ["law", "what is drawn"], [.. laws.Select(law => new[] { law.Name, law.About })]) { IsProse = true };

    private static FigureTable Settings(string title, Process process, LawTally[] rows) => new(title,
        [
            "cards", "scored", "with a setting", "stated at 90 or more", "miss the goal", "of these narrowly", "clearly",
            process == Process.Engrave ? "under 90 of the strongest" : "clearly below what is stated",
            "miss at the weakest place", "cards with 4 good cells", "of these silent", "limits broken",
        ],
        [
            .. rows.Select(row => (string[])
            [
                row.Name, $"{row.Cards}", Percent(row.SettingShare), .. Misses(row.Burned),
                Percent(process == Process.Engrave ? row.Burned.WeakShare : row.Burned.ShortOfStatedShare),
                Percent(row.Burned.MissAtWeakestShare), $"{row.WithGood}", Percent(row.SilentShare), row.Breaks,
            ]),
        ]);

    private static FigureTable BySize(string title, (SizedLaw Law, LawResult[] Cards)[] results)
    {
        string[] sizes = [.. results.Select(one => one.Law.Size.ToString()).Distinct()];
        return new(title, ["cards", .. sizes],
        [
            .. results.GroupBy(one => one.Law.Law.Name).Select(law => (string[])
            [
                law.Key,
                .. sizes.Select(size => new LawTally(size,
                    [.. law.Where(one => one.Law.Size.ToString() == size).SelectMany(one => one.Cards)], LawLimits.MissesOfALaw).Burned)
                    .Select(tally => tally.ReliedOn == 0 ? "–" : $"{100 * tally.ClearMissShare:0} ({tally.ReliedOn})"),
            ]),
        ]);
    }

    private static FigureTable Reliability(string title, LawTally[] rows) => new(title,
        ["cards", .. Bins.Select(Range), "no probability"],
        [.. rows.Select(row =>
            (string[])[row.Name, .. Bins.Select(bin => Reached(row.Burned.Between(bin.From, bin.Below))), Reached(row.Burned.Unstated)])]);

    private static FigureTable Unburned(string title, Process process, LawTally[] rows) => new(title,
        [
            "cards", "with one", "stated at 90 or more", "miss the goal", "of these narrowly", "clearly",
            process == Process.Engrave ? "under 90 of the strongest" : "miss at the weakest place", "interval right", "below 80",
            "80 to 90", "90 or more", "limits broken",
        ],
        [
            .. rows.Select(row => (string[])
            [
                row.Name, $"{row.Unburned.Count}", .. Misses(row.Unburned),
                Percent(process == Process.Engrave ? row.Unburned.WeakShare : row.Unburned.MissAtWeakestShare),
                Percent(row.Unburned.IntervalRightShare),
                Reached(row.Unburned.Between(0, 0.8)), Reached(row.Unburned.Between(0.8, 0.9)), Reached(row.Unburned.Between(0.9, 1.01)),
                row.UnburnedBreaks,
            ]),
        ]);

    private static FigureTable Intervals(string title, LawTally[] rows) => new(title,
        ["cards", "of the recommendation", "boundary", "boundary wholly below the truth", "mean stated", "mean truth"],
        [
            .. rows.Select(row => (string[])
            [
                row.Name, Percent(row.Burned.IntervalRightShare), Percent(row.BoundaryRightShare), Percent(row.BoundaryTooLowShare),
                Percent(row.Burned.MeanStated), Percent(row.Burned.MeanWorth),
            ]),
        ]);

    private static string[] Misses(SettingTally tally) =>
        [$"{tally.ReliedOn}", Percent(tally.MissShare), Percent(tally.NarrowMissShare), Percent(tally.ClearMissShare)];

    private static string Range((double From, double Below) bin) =>
        bin.From == 0 ? $"below {100 * bin.Below:0}"
        : bin.Below > 1 ? $"{100 * bin.From:0} or more"
        : $"{100 * bin.From:0} to {100 * bin.Below:0}";

    private static string Reached((int Count, double Share) reached) =>
        reached.Count == 0 ? "–" : $"{100 * reached.Share:0} ({reached.Count})";

    private static string Percent(double share) => double.IsNaN(share) ? "–" : $"{100 * share:0.0}";
}
