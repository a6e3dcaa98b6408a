using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>A comparison on the terminal: the setting to use first, then why, then where the files are.</summary>
internal static class ComparisonSummary
{
    /// <summary>Prints a result; exit code of the command.</summary>
    public static int Print(Terminal terminal, CompareResult result, bool isJson)
    {
        if (isJson)
        {
            terminal.ShowRaw(CardJson.Write(result.Comparison));
            return ExitCode.Done;
        }

        foreach (ComparedPair pair in result.Comparison.Pairs) Print(terminal, pair);
        if (result.Comparison.Chart is { } chart) terminal.Show($"[bold]{Voice.Say("terminal.chart")}[/] {Markup.Escape(chart.Finding)}");
        if (result.Comparison.Repeatability is { } repeats) terminal.ShowText(Repeats(repeats));
        foreach (string file in result.Files) terminal.ShowLine(file);
        return ExitCode.Done;
    }

    private static void Print(Terminal terminal, ComparedPair pair)
    {
        BatchAnswer? answer = pair.Answer;
        string colour = answer is { Source: not AnswerSource.None } ? "green" : "yellow";
        terminal.Show($"[bold {colour}]{Markup.Escape(pair.Other)}[/]  [bold]{Markup.Escape(answer?.Lead ?? "")}[/]");
        foreach (Advice against in pair.Notes.Where(note => note.IsAgainstBurning)) terminal.Advise(against);
        if (answer is { Why.Length: > 0 }) terminal.ShowText($"  {answer.Why}");
        terminal.ShowText($"  {pair.Summary}");
        int differing = pair.Cells.Count(cell => cell.IsDifferent == true);
        if (pair.Agreement is { } agreement)
        {
            terminal.ShowText("  " + Voice.Say("terminal.pair-cells",
                ("cells", differing), ("all", pair.Cells.Count), ("bias", In(Unit.Density, agreement.Bias.Value))));
        }

        foreach (Advice note in pair.Notes.Where(note => !note.IsAgainstBurning)) terminal.Advise(note);
    }

    private static string Repeats(Repeatability repeats) => Voice.Say("terminal.repeats",
        ("readings", repeats.Readings), ("deviation", In(Unit.Statistic, repeats.WithinCellDeviation)),
        ("agreement", In(Unit.Statistic, repeats.AgreementIcc.Value)),
        ("low", In(Unit.Statistic, repeats.AgreementIcc.Low)), ("high", In(Unit.Statistic, repeats.AgreementIcc.High)));
}
