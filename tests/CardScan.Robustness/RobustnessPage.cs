using CardScan.Calibration;

namespace CardScan.Robustness;

/// <summary>The results in tables.</summary>
internal static class RobustnessPage
{
    public static string Summary(Verdict[] verdicts) => string.Concat(Tables(verdicts).Select(table => table.ToText()));

    public static string Render(RunArguments arguments, Verdict[] verdicts) => arguments.Command + string.Concat(Tables(verdicts).Select(table => table.ToMarkdown()));

    private static IEnumerable<FigureTable> Tables(Verdict[] verdicts)
    {
        Verdict[] inRange = [.. verdicts.Where(verdict => verdict.Recipe.IsInRange)], outside = [.. verdicts.Where(verdict => !verdict.Recipe.IsInRange)];
        yield return new("All photos", Head("photos"), [Row("inside the working range", inRange), Row("outside", outside), Row("all", verdicts)]);
        foreach (Factor factor in Factors.All)
            yield return new($"By {factor.Name}, inside the working range", Head("level"), [.. factor.Levels.Select(level => Row(level.Name, [.. inRange.Where(verdict => verdict.Recipe.NameOf(factor) == level.Name)]))]);
        yield return new("Codes", ["code", "inside", "outside"], [.. verdicts.Where(verdict => verdict.Code.Length > 0).GroupBy(verdict => (verdict.Outcome, verdict.Code)).OrderByDescending(group => group.Key.Outcome).ThenByDescending(group => group.Count())
            .Select(group => new[] { $"{(group.Key.Outcome == Outcome.Refused ? "refused" : "silently wrong")}: {group.Key.Code}", $"{group.Count(verdict => verdict.Recipe.IsInRange)}", $"{group.Count(verdict => !verdict.Recipe.IsInRange)}" })]);
    }

    private static string[] Head(string first) => [first, "n", "useful", "little usable", "refused", "silently wrong"];

    private static string[] Row(string name, Verdict[] verdicts) =>
        [name, $"{verdicts.Length}", Share(verdicts, Outcome.Useful), Share(verdicts, Outcome.Little), Share(verdicts, Outcome.Refused), $"{verdicts.Count(verdict => verdict.Outcome == Outcome.SilentlyWrong)}"];

    private static string Share(Verdict[] verdicts, Outcome outcome) => verdicts.Length == 0 ? "–" : $"{100.0 * verdicts.Count(verdict => verdict.Outcome == outcome) / verdicts.Length:F1} %";
}
