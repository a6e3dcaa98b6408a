using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

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
        if (result.Comparison.Chart is { } chart) terminal.Show($"[bold]In order:[/] {Markup.Escape(chart.Finding)}");
        if (result.Comparison.Repeatability is { } repeats) terminal.Show(Markup.Escape(Repeats(repeats)));
        foreach (string file in result.Files) terminal.ShowLine(file);
        return ExitCode.Done;
    }

    private static void Print(Terminal terminal, ComparedPair pair)
    {
        string colour = pair.Verdict is PairVerdict.Equal or PairVerdict.Different ? "green" : "yellow";
        string ratio = pair.RelativeDose is { } dose
            ? $"{Figures.Hundredths(dose.Value)}× the energy of {pair.Reference} [{Figures.Hundredths(dose.Low)}, {Figures.Hundredths(dose.High)}]"
            : "no relative dose";
        terminal.Show($"[bold {colour}]{Markup.Escape(pair.Other)}[/]  [bold]{Markup.Escape(ratio)}[/]");
        terminal.Show($"  {Markup.Escape(pair.Summary)}");
        if (pair.Change is { Goal: Goal.FastestFullMark or Goal.Darkest })
            terminal.Show($"  [dim]The change keeps the share of the strongest mark that it had on {Markup.Escape(pair.Reference)}; the reading of {Markup.Escape(pair.Other)} by itself may name another setting.[/]");
        int differing = pair.Cells.Count(cell => cell.IsDifferent == true);
        if (pair.Agreement is { } agreement)
            terminal.Show($"  {differing} of {pair.Cells.Count} cells differ by more than chance; mean difference of darkness {Figures.Hundredths(agreement.Bias.Value)}");
        foreach (Advice note in pair.Notes) terminal.Show($"[yellow]![/] {Markup.Escape(note.Message)}");
    }

    private static string Repeats(Repeatability repeats) =>
        $"Repeats: {repeats.Readings} readings of one card, a cell's darkness varies by {repeats.WithinCellDeviation:0.000}, ICC(2,1) {repeats.AgreementIcc.Value:0.000} [{repeats.AgreementIcc.Low:0.000}, {repeats.AgreementIcc.High:0.000}]";
}
