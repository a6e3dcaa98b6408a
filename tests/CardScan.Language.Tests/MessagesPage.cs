using System.Text;

namespace CardScan.Language.Tests;

/// <summary>docs/messages.md, made from the language file: every code with its sentences.</summary>
internal static class MessagesPage
{
    /// <summary>How the keys of the flags begin, which have names that warnings have too.</summary>
    private const string Flag = "page.flag.";

    private static IEnumerable<string> Flags => LanguageFile.English.All.Where(key => key.StartsWith(Flag, StringComparison.Ordinal));

    public static string Make(IReadOnlyDictionary<string, string> exitCodes)
    {
        StringBuilder page = new($"""
            # Messages

            <!-- Made from src/CardScan.Language/Messages.en.json: CARDSCAN_WRITE_DOCS=1 dotnet test tests/CardScan.Language.Tests -->

            Everything CardScan can have to say has a stable code, in kebab-case. A refusal ends a command with what was seen and
            what to do; its exit code is 2 where the command line or a file is wrong, 3 where the photo cannot be measured
            honestly, and 1 where a file or folder could not be used. Warnings, flags and advice are kept in the reading or the
            comparison, for other programs as well: each with its `code`, its sentence (`message`) and the figures in it
            (`values`).

            In the sentences below, *italics* are values, and [one | another] are what the sentence says in one case or another.

            ## What is said first

            Before anything else, `read`, `score` and the page say whether the reading can be used. It follows from what stands
            below and is not kept in the file.

            | it says | when |
            | --- | --- |
            | {Cell("judgement.as-it-is")} | It has settings, each at least 90 % sure where a probability belongs to it, {
                "no warning is grave, and the limit that was looked for lies on the card."} |
            | {Cell("judgement.with-care")} | A warning is grave, or a setting is less than 90 % sure. {
                "The reason follows: the gravest warning, or the first advice that bears on the settings."} |
            | {Cell("judgement.no-setting")} | It has none. {
                "The reason follows: the card's own, or the gravest warning where another photo may give a setting."} |

            ## Flags of a cell

            A cell with `glare`, `clipped` or `out-of-frame` is not used for scoring, and an `outlier` was left out of it.

            | code | it says |
            | --- | --- |
            {string.Concat(Flags.Select(flag => $"| `{flag[Flag.Length..]}` | {Cell(flag)} |\n"))}

            """);
        foreach (IGrouping<string, (string Group, string Code)> group in LanguageFile.English.OfFiles.GroupBy(said => said.Group))
        {
            page.Append($"## {group.Key}\n\n");
            bool isRefusals = group.Key.StartsWith("Refusals", StringComparison.Ordinal);
            page.Append(isRefusals
                ? "| code | exit | it says | what to do |\n| --- | --- | --- | --- |\n"
                : "| code | it says |\n| --- | --- |\n");
            foreach (string code in group.Select(said => said.Code.Split('.')[0]).Distinct())
            {
                page.Append(isRefusals
                    ? $"| `{code}` | {exitCodes.GetValueOrDefault(code, "")} | {Cell($"{code}.seen")} | {Cell($"{code}.remedy")} |\n"
                    : $"| `{code}` | {Cell(code)} |\n");
            }

            page.Append('\n');
        }

        return page.ToString().TrimEnd() + "\n";
    }

    private static string Cell(string key) => LanguageFile.English.TemplateOf(key).Describe().Replace("|", "\\|", StringComparison.Ordinal);
}
