using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>A comparison on the terminal: the ratio first, then what to change and why, then where the files are.</summary>
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
        string colour = pair.Verdict is PairVerdict.Equal or PairVerdict.Different ? "green" : "yellow";
        terminal.Show($"[bold {colour}]{Markup.Escape(pair.Other)}[/]  [bold]{Markup.Escape(Ratio(pair))}[/]");
        terminal.ShowText($"  {pair.Summary}");
        if (pair.Change is { Goal: Goal.FastestFullMark or Goal.Darkest })
        {
            string change = Voice.Say("terminal.pair-change", ("reference", pair.Reference), ("other", pair.Other));
            terminal.Show($"  [dim]{Markup.Escape(change)}[/]");
        }

        int differing = pair.Cells.Count(cell => cell.IsDifferent == true);
        if (pair.Agreement is { } agreement)
        {
            terminal.ShowText("  " + Voice.Say("terminal.pair-cells",
                ("cells", differing), ("all", pair.Cells.Count), ("bias", In(Unit.Density, agreement.Bias.Value))));
        }

        foreach (Advice note in pair.Notes) terminal.Advise(note);
    }

    private static string Ratio(ComparedPair pair) => pair.RelativeDose is { } dose
        ? Voice.Say("terminal.pair-ratio", ("ratio", In(Unit.Factor, dose.Value)), ("reference", pair.Reference),
            ("low", In(Unit.Density, dose.Low)), ("high", In(Unit.Density, dose.High)))
        : Voice.Say("terminal.pair-ratio");

    private static string Repeats(Repeatability repeats) => Voice.Say("terminal.repeats",
        ("readings", repeats.Readings), ("deviation", In(Unit.Statistic, repeats.WithinCellDeviation)),
        ("agreement", In(Unit.Statistic, repeats.AgreementIcc.Value)),
        ("low", In(Unit.Statistic, repeats.AgreementIcc.Low)), ("high", In(Unit.Statistic, repeats.AgreementIcc.High)));
}
