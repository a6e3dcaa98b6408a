using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>The study's tables.</summary>
internal static class StudyReport
{
    private static readonly (double From, double Below)[] Bins =
        [(0, 0.8), (0.8, 0.85), (0.85, 0.9), (0.9, 0.95), (0.95, 0.98), (0.98, 0.995), (0.995, 1.01)];

    private static readonly string[] EngraveQuantities =
    [
        "interval of fastest-full-mark", "interval of darkest", "interval of the setting not burned", "band of the curve", "boundary",
        "strongestMark", "speedExponent", "plateau", "thresholdDose", "scaleDose", "shape"
    ];

    private static readonly string[] CutQuantities =
    [
        "interval of sure-cut", "interval of clean-cut", "interval of the setting not burned", "boundary", "powerExponent",
        "speedExponent", "doseRatioAlongYToX"
    ];

    public static IEnumerable<FigureTable> Tables(IReadOnlyCollection<(StudyCase Case, CardResult[] Cards)> results) =>
        new[] { Process.Engrave, Process.Cut }
            .Select(process => results.Where(result => result.Case.Process == process).ToArray())
            .Where(ofProcess => ofProcess.Length > 0)
            .SelectMany(TablesOf)
            .Where(table => table.Rows.Length > 0);

    private static IEnumerable<FigureTable> TablesOf((StudyCase Case, CardResult[] Cards)[] results)
    {
        Process process = results[0].Case.Process;
        string name = process == Process.Engrave ? "Engraved" : "Cut";
        string[] quantities = process == Process.Engrave ? EngraveQuantities : CutQuantities;
        (string Name, Tally Tally)[] groups = [.. Groups(results)];
        yield return new($"{name} cards: coverage of nominal 95 % intervals, percent",
            ["cards", "scored", .. quantities], [.. groups.Select(g => CoverageRow(g.Name, g.Tally, quantities))]);
        yield return new($"{name} cards: regret, in burns of the best burned setting",
            [
                "cards", "with a setting", "misses", "median", "95th", "by eye: misses", "median", "95th", "over half of by eye: median",
                "95th", "against all in range: median", "95th"
            ],
            [.. groups.Select(g => RegretRow(g.Name, g.Tally))]);
        yield return new($"{name} cards: regret, following the setting between tested cells where one is named",
            ["cards", "misses", "median", "95th", "over half of by eye: median", "95th"],
            [.. groups.Select(g => FollowingRow(g.Name, g.Tally))]);
        yield return new($"{name} cards: settings between tested cells, in burns of the best setting inside the range",
            [
                "cards", "with one", "mean stated",
                process == Process.Engrave ? "mean share of the strongest mark" : "mean probability through",
                "misses", "median", "95th", "burned cell: misses", "median", "95th"
            ],
            [.. groups.Where(g => g.Tally.WithUnburned.Cards > 0).Select(g => UnburnedRow(g.Name, g.Tally, g.Tally.WithUnburned))]);
        foreach (var group in
            results.Where(result => result.Case.Disturbance.Name == "").GroupBy(result => result.Case.Law == OwnLaw(process)))
        {
            Tally tally = new([.. group.SelectMany(result => result.Cards)]);
            yield return new(
                $"{name} cards: stated probability against what came of it, {(group.Key ? $"law: {OwnLaw(process)}" : "all other laws")}",
                [
                    "stated, percent", "settings", "mean stated",
                    process == Process.Engrave ? "mean share of the strongest mark" : "mean probability through",
                    "reach the goal"
                ],
                [.. Bins.Select(bin => ReliabilityRow(bin, tally)).Where(row => row[1] != "0")]);
        }
    }

    private static string OwnLaw(Process process) => process == Process.Engrave ? MarkLaws.Saturating : SideLaws.Logistic;

    /// <summary>By law; the scoring's own law by size, chance and steepness; by disturbance.</summary>
    private static IEnumerable<(string, Tally)> Groups((StudyCase Case, CardResult[] Cards)[] results)
    {
        (StudyCase Case, CardResult[] Cards)[] plain = [.. results.Where(result => result.Case.Disturbance.Name == "")];
        string own = OwnLaw(results[0].Case.Process);
        (StudyCase Case, CardResult[] Cards)[] ofOwn = [.. plain.Where(result => result.Case.Law == own)];
        return
        [
            .. By(plain, study => $"law: {study.Law}"),
            .. By(plain, _ => "all laws"),
            .. By(ofOwn, study => $"{own}, {study.Side} × {study.Side}"),
            .. By(ofOwn, study => $"{own}, chance {study.ChancePercent} %"),
            .. By(ofOwn, study => $"{own}, {study.Steepness}"),
            .. By([.. plain.Except(ofOwn)], study => $"other laws, {study.Side} × {study.Side}"),
            .. By([.. results.Except(plain)], study => $"{study.Law}, {study.Disturbance.Name}"),
        ];
    }

    private static IEnumerable<(string, Tally)> By((StudyCase Case, CardResult[] Cards)[] results, Func<StudyCase, string> nameOf) =>
        results.GroupBy(result => nameOf(result.Case))
            .Select(group => (group.Key, new Tally([.. group.SelectMany(result => result.Cards)])));

    private static string[] CoverageRow(string name, Tally tally, string[] quantities) =>
        [name, $"{tally.Cards}", .. quantities.Select(quantity => Percent(tally.Coverage(quantity).Share))];

    private static string[] RegretRow(string name, Tally tally)
    {
        (double median, double tail) = (tally.Regret(0.5), tally.Regret(0.95));
        (double eyeMedian, double eyeTail) = (tally.RegretByEye(0.5), tally.RegretByEye(0.95));
        return
        [
            name, Percent(tally.RecommendedShare), Percent(tally.MissedShare), Number(median), Number(tail),
            Percent(tally.MissedByEyeShare), Number(eyeMedian), Number(eyeTail), OfHalf(median, eyeMedian), OfHalf(tail, eyeTail),
            Number(tally.RegretInRange(0.5)), Number(tally.RegretInRange(0.95)),
        ];
    }

    private static string[] FollowingRow(string name, Tally tally)
    {
        (double median, double tail) = (tally.RegretFollowing(0.5), tally.RegretFollowing(0.95));
        return
        [
            name, Percent(tally.MissedFollowingShare), Number(median), Number(tail),
            OfHalf(median, tally.RegretByEye(0.5)), OfHalf(tail, tally.RegretByEye(0.95)),
        ];
    }

    private static string[] UnburnedRow(string name, Tally all, Tally given) =>
    [
        name, Percent(given.Cards / (double)all.Cards), Percent(given.Unburned.Stated), Percent(given.Unburned.Worth),
        Percent(given.Unburned.Missed),
        Number(given.UnburnedRegret(0.5)), Number(given.UnburnedRegret(0.95)),
        Percent(given.MissedShare), Number(given.RegretInRange(0.5)), Number(given.RegretInRange(0.95)),
    ];

    private static string[] ReliabilityRow((double From, double Below) bin, Tally tally)
    {
        (int count, double stated, double worth, double reached) = tally.Reliability(bin.From, bin.Below);
        string range = bin.Below > 1 ? $"{100 * bin.From:0.#} or more" : $"{100 * bin.From:0.#} to {100 * bin.Below:0.#}";
        return [range, $"{count}", Percent(stated), Percent(worth), Percent(reached)];
    }

    /// <summary>1 or less where the regret is at most half of picking by eye.</summary>
    private static string OfHalf(double regret, double byEye) => byEye > 0 ? Number(regret / (byEye / 2)) : "–";

    private static string Percent(double share) => double.IsNaN(share) ? "–" : $"{100 * share:0.0}";

    private static string Number(double value) => double.IsNaN(value) ? "–" : $"{value:0.00}";
}
