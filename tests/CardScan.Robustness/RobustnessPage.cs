using System.Text;
using CardScan.Calibration;

namespace CardScan.Robustness;

/// <summary>The results: tables for a terminal, and the page docs/robustness.md, which nobody writes by hand.</summary>
internal static class RobustnessPage
{
    private const int WorstPhotos = 10;

    private const string Introduction =
        "# Robustness\n\n"
        + "What becomes of photos that are not kind: test cards of known truth are rendered under many disturbances at "
        + "once, written as JPEG, read as a user would read them, and what is said is held against the truth. This "
        + "page is written by the program that does it:\n\n"
        + "```\n"
        + "{command}\n"
        + "```\n\n"
        + "The same seed gives the same photos. `--keep FOLDER` leaves photos and plans in a folder, to be looked at "
        + "or read by hand. Engraved cards (20 cells of five powers and four speeds) follow a saturating law with 1.5 "
        + "% chance from cell to cell; sides of cut ones are open, held by a bridge, or held all along. Every factor below is "
        + "drawn for each photo by itself, so a photo has several disturbances more often than one. All of it is "
        + "computed: no real phone, lamp or board took part.\n\n"
        + "## What counts\n\n"
        + "**Working range**: tilt up to 35° (of a cut card before a lamp up to 10°, since light passes through a kerf "
        + "at an angle of only a few degrees, [sides.md](method/sides.md)), at least 8 px/mm, blur (standard deviation) up to "
        + "3 % of the smallest cell, where the photo check begins to warn of softness "
        + "([photo-check.md](method/photo-check.md)). Light, exposure, noise, tone, compression, material and the "
        + "state of the card are *not* part of it: inside the range they may be anything that is listed here.\n\n"
        + "A photo is\n\n"
        + "- **silently wrong** where one of these is so:\n"
        + "  - *place*: a cell is told more than 0.5 mm off without the warning `pose-residual` (blur, or a bent "
        + "card). Of a 5 mm cell the measured part begins 0.75 mm inside its edge.\n"
        + "  - *darkness*: the contrast of a cell without a flag is off by more than 4 of its stated standard errors "
        + "(`contrast.standardError`, which has what a tone curve bends beside the stretch) and by more than 0.05 (of "
        + "a mark lighter than bare material: 5 % of its luminance), after the stretch that all darkness of the photo "
        + "shares is taken out. Four errors are not met by chance in 20,000 cells; 0.05 is as little as the eye sees "
        + "between two marks side by side. The stretch is taken out because a photo states it apart "
        + "(`darknessScaleError`) and no setting is chosen by it.\n"
        + "  - *stretch*: that stretch is itself more than two of its stated errors.\n"
        + "  - *full-mark*: a cell recommended as full mark with 80 % or more has a setting that gives, without the "
        + "chance of the single burn, less than 90 % of the strongest usable setting's mark. A full mark is 95 %; what "
        + "lies between is the chance that the stated probability speaks of, and is counted below by itself.\n"
        + "  - *open-though-held*: a side is called open of which less than 90 % is (up to a tenth need not be seen, "
        + "[sides.md](method/sides.md)); *closed-though-open*: one is called closed of which more than 30 % is open; "
        + "*sure-cut*: the sure cut has a side that is less than 90 % open; *kerf*: the mean kerf is off by more than "
        + "4 stated errors and 0.1 mm.\n"
        + "- **refused** where the command ends with a reason;\n"
        + "- of **little** use where it is read, and nothing in it is wrong, but fewer than 60 % of the cells can be "
        + "used (of a cut card: fewer than 25 % of the sides are judged, since one view seldom shows them all); the "
        + "warnings say why;\n"
        + "- **useful** otherwise.\n\n";

    /// <summary>Tables for a terminal.</summary>
    public static string Summary(Verdict[] verdicts) => string.Concat(Tables(verdicts).Select(table => table.ToText()));

    /// <summary>The whole page.</summary>
    public static string Render(RunArguments arguments, Verdict[] verdicts)
    {
        StringBuilder page = new(Introduction.Replace("{command}", arguments.Command));
        page.AppendLine("## Results").AppendLine().AppendLine(Result(verdicts)).AppendLine();
        foreach (FigureTable table in Tables(verdicts)) page.Append(table.ToMarkdown());
        AppendWorst(page, verdicts);
        return page.ToString();
    }

    /// <summary>What became of one photo, in one line.</summary>
    public static string Line(Verdict verdict) =>
        $"{verdict.Recipe.Number}\t{(verdict.Recipe.IsInRange ? "inside" : "outside")}\t"
        + $"{verdict.Outcome}\t{verdict.Code}\t{verdict.UsableShare:F2}\t{verdict.Recipe}\t{verdict.Message}";

    private static string Result(Verdict[] verdicts)
    {
        Verdict[] inRange = InRange(verdicts);
        int wrong = Count(inRange, Outcome.SilentlyWrong);
        double useful = 100.0 * Count(inRange, Outcome.Useful) / inRange.Length;
        // Nothing seen in n leaves a rate of up to 3/n (95 %; Poisson: e^-3 = 0.05).
        string bound =
            wrong == 0 ? $" None in {inRange.Length} leaves room for a true rate of up to {300.0 / inRange.Length:F1} % (95 %)." : "";
        return $"Inside the working range {useful:F1} % of {inRange.Length} photos give a useful reading (goal: 95 %) "
            + $"and {wrong} are silently wrong (goal: none).{bound} "
            + "A photo whose bare material the exposure puts to the top of the scale holds no measure of any mark, "
            + $"and a refusal is all that it can give: {Spared(inRange)}";
    }

    private static string Spared(Verdict[] inRange)
    {
        Verdict[] bare = BareInScale(inRange);
        return $"without those {100.0 * Count(bare, Outcome.Useful) / bare.Length:F1} % of {bare.Length} are useful.";
    }

    private static IEnumerable<FigureTable> Tables(Verdict[] verdicts)
    {
        Verdict[] inRange = InRange(verdicts), outside = [.. verdicts.Where(verdict => !verdict.Recipe.IsInRange)];
        yield return new("All photos", Head("photos"),
            [
                Row("inside the working range", inRange),
                Row("of these, bare material below the top of the scale", BareInScale(inRange)),
                Row("outside", outside),
                Row("all", verdicts)
            ]);
        foreach (Factor factor in Factors.All)
        {
            bool isOfRange = factor == Factors.Tilt || factor == Factors.Scale || factor == Factors.Blur;
            Verdict[] counted = isOfRange ? verdicts : inRange;
            yield return new($"By {factor.Name}{(isOfRange ? " (all photos)" : "")}", Head("level"),
                [.. factor.Levels.Select(level => Row(level.Name, Of(counted, factor, level)))]);
        }

        yield return new("Refusals and what is wrong", ["code", "inside the working range", "outside"], [.. Codes(verdicts)]);
        yield return FullMarks(verdicts);
    }

    private static Verdict[] InRange(Verdict[] verdicts) => [.. verdicts.Where(verdict => verdict.Recipe.IsInRange)];

    private static Verdict[] BareInScale(Verdict[] verdicts) => [.. verdicts.Where(verdict => verdict.Recipe.IsBareInScale)];

    private static Verdict[] Of(Verdict[] verdicts, Factor factor, Level level) =>
        [.. verdicts.Where(verdict => verdict.Recipe.NameOf(factor) == level.Name)];

    private static string[] Head(string first) => [first, "n", "useful", "little", "refused", "silently wrong"];

    private static string[] Row(string name, Verdict[] verdicts) =>
    [
        name, $"{verdicts.Length}", Share(verdicts, Outcome.Useful), Share(verdicts, Outcome.Little), Share(verdicts, Outcome.Refused),
        $"{Count(verdicts, Outcome.SilentlyWrong)}"
    ];

    private static int Count(Verdict[] verdicts, Outcome outcome) => verdicts.Count(verdict => verdict.Outcome == outcome);

    private static string Share(Verdict[] verdicts, Outcome outcome) =>
        verdicts.Length == 0 ? "–" : $"{100.0 * Count(verdicts, outcome) / verdicts.Length:F1} %";

    private static IEnumerable<string[]> Codes(Verdict[] verdicts) => verdicts
        .Where(verdict => verdict.Code.Length > 0)
        .GroupBy(verdict => (verdict.Outcome, verdict.Code))
        .OrderByDescending(group => group.Key.Outcome).ThenByDescending(group => group.Count())
        .ThenBy(group => group.Key.Code, StringComparer.Ordinal)
        .Select(group => new[]
        {
            $"{(group.Key.Outcome == Outcome.Refused ? "refused" : "silently wrong")}: {group.Key.Code}",
            $"{group.Count(verdict => verdict.Recipe.IsInRange)}",
            $"{group.Count(verdict => !verdict.Recipe.IsInRange)}",
        });

    private static FigureTable FullMarks(Verdict[] verdicts)
    {
        Promise[] promises = [.. verdicts.Select(verdict => verdict.FullMark).OfType<Promise>()];
        return new("Full marks recommended with 80 % or more",
            [
                "photos", "recommended", "mean stated probability", "setting gives 95 % of the strongest or more", "90 to 95 %",
                "below 90 %", "95 % as burned, chance included"
            ],
            promises.Length == 0 ? [] :
            [[
                $"{verdicts.Length}", $"{promises.Length}", $"{promises.Average(promise => promise.Confidence):P0}",
                $"{promises.Count(promise => promise.TrueShare >= 0.95)}",
                $"{promises.Count(promise => promise.TrueShare is >= 0.9 and < 0.95)}",
                $"{promises.Count(promise => promise.TrueShare < 0.9)}",
                $"{promises.Count(promise => promise.BurnedShare >= 0.95)}",
            ]]);
    }

    private static void AppendWorst(StringBuilder page, Verdict[] verdicts)
    {
        page.AppendLine("## The worst photos").AppendLine();
        page.AppendLine(
            "What is silently wrong, the working range first; then one refusal of each code and the photos with least that can be used. "
                + "What CardScan said of them stands behind the colon.")
            .AppendLine();
        foreach (Verdict verdict in Worst(verdicts))
            page.AppendLine(
                $"- **Photo {verdict.Recipe.Number}**, {Words(verdict)} "
                    + $"({(verdict.Recipe.IsInRange ? "" : "outside the working range; ")}{verdict.Recipe}): {verdict.Message}");
    }

    private static IEnumerable<Verdict> Worst(Verdict[] verdicts) => verdicts
        .Where(verdict => verdict.Outcome == Outcome.SilentlyWrong).OrderByDescending(verdict => verdict.Recipe.IsInRange)
        .Concat(verdicts.Where(verdict => verdict.Outcome == Outcome.Refused)
            .OrderByDescending(verdict => verdict.Recipe.IsInRange).DistinctBy(verdict => verdict.Code))
        .Concat(verdicts.Where(verdict => verdict.Outcome == Outcome.Little).OrderBy(verdict => verdict.UsableShare))
        .Take(WorstPhotos);

    private static string Words(Verdict verdict) => verdict.Outcome switch
    {
        Outcome.SilentlyWrong => "silently wrong",
        Outcome.Refused => "refused",
        _ => $"{verdict.UsableShare:P0} can be used",
    };
}
