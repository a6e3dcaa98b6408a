using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>The tables of the chain study: after each card over all laws, and by law after the last.</summary>
internal static class ChainTables
{
    /// <summary>Most settings that may miss the goal of the whole chain.</summary>
    private const double MostMisses = 0.05;

    public static IEnumerable<FigureTable> Of(IReadOnlyCollection<(SizedLaw Law, LawResult[][] Chains)> results, int cards)
    {
        foreach (Process process in new[] { Process.Engrave, Process.Cut })
        {
            (SizedLaw Law, LawResult[][] Chains)[] some = [.. results.Where(one => one.Law.Law.Process == process)];
            if (some.Length == 0) continue;
            string name = process == Process.Engrave ? "Engraved" : "Cut";
            string[] head =
            [
                "cards", "chains", "with a setting",
                process == Process.Engrave ? "below 95 of the strongest of all cards" : "through less often than 95",
                "stated at 90 or more", "miss clearly",
                .. process == Process.Engrave ? ["under 90 of the strongest"] : Array.Empty<string>(),
                "interval right", "boundary right", "limit broken",
            ];
            yield return new($"{name} cards in a row: what is stated after each, percent", head,
            [
                .. Enumerable.Range(0, cards)
                    .Select(i => Row($"after {i + 1}", process, [.. some.SelectMany(one => one.Chains.Select(chain => chain[i]))])),
                .. some.GroupBy(one => one.Law.Law.Name)
                    .Select(law => Row(law.Key, process, [.. law.SelectMany(one => one.Chains.Select(chain => chain[^1]))])),
            ]);
        }
    }

    private static string[] Row(string name, Process process, LawResult[] results)
    {
        LawTally tally = new(name, results, MostMisses);
        return
        [
            name, $"{tally.Cards}", Percent(tally.SettingShare), Percent(tally.Burned.AnyMissShare), $"{tally.Burned.ReliedOn}",
            Percent(tally.Burned.ClearMissShare),
            .. process == Process.Engrave ? [Percent(tally.Burned.WeakShare)] : Array.Empty<string>(),
            Percent(tally.Burned.IntervalRightShare), Percent(tally.BoundaryRightShare),
            tally.Burned.AnyMissShare > MostMisses ? "**misses**" : "",
        ];
    }

    private static string Percent(double share) => double.IsNaN(share) ? "–" : $"{100 * share:0.0}";
}
