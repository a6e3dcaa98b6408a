using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>A reading on the terminal: the settings first, then the grid, then where the files are.</summary>
internal static class ReadingSummary
{
    /// <summary>Prints a result; exit code of the command.</summary>
    public static int Print(Terminal terminal, ReadResult result, bool isJson)
    {
        foreach (PhotoRecord photo in result.Reading.Photos)
            foreach (Warning warning in photo.Warnings) terminal.Warn($"{photo.File}: {warning.Message}");

        if (isJson)
        {
            terminal.ShowRaw(CardJson.Write(result.Reading));
            return ExitCode.Done;
        }

        Reading reading = result.Reading;
        terminal.Show($"[bold]Card {reading.Plan.Number}[/]{Part(reading.Plan.Title)}{Part(reading.Plan.Material.Name)}{Part(reading.Plan.Material.Batch)}");
        foreach (Recommendation recommendation in reading.Recommendations) Print(terminal, recommendation);
        foreach (Advice advice in reading.Advice) terminal.Show($"[yellow]![/] {Markup.Escape(advice.Message)}");
        if (terminal.IsOutputTerminal) terminal.Show(Grid(reading));
        foreach (string file in result.Files) terminal.Show(Markup.Escape(file));
        return ExitCode.Done;
    }

    private static string Part(string? text) => string.IsNullOrEmpty(text) ? "" : $" · {Markup.Escape(text)}";

    private static void Print(Terminal terminal, Recommendation recommendation)
    {
        string confidence = recommendation.Confidence is { } p ? $", confidence {p:P0}" : "";
        terminal.Show($"[bold green]{Markup.Escape(recommendation.Goal)}[/]  [bold]{recommendation.SpeedMmPerMin:0.##} mm/min at {recommendation.PowerPercent:0.##} %[/]{confidence}");
        terminal.Show($"  {Markup.Escape(recommendation.Reason)}");
    }

    private static Table Grid(Reading reading)
    {
        Plan plan = reading.Plan;
        bool isCut = plan.Process == Process.Cut;
        Table table = new() { Border = TableBorder.Simple, Title = new(isCut ? "Sides through" : "Darkness (reflection density against bare)") };
        table.AddColumn(new TableColumn($"{Name(plan.Rows.Setting)} ↓  {Name(plan.Columns.Setting)} →").RightAligned());
        foreach (double value in plan.Columns.Values) table.AddColumn(new TableColumn($"{value:0.###}").RightAligned());
        ILookup<(int, int), CellReading> cells = reading.Cells.ToLookup(cell => (cell.Row, cell.Column));
        HashSet<CellAddress> recommended = [.. reading.Recommendations.Select(recommendation => recommendation.Cell).OfType<CellAddress>()];
        for (int row = 0; row < plan.Rows.Values.Count; row++)
        {
            int r = row;
            table.AddRow([$"{plan.Rows.Values[row]:0.###}", .. Enumerable.Range(0, plan.Columns.Values.Count).Select(column =>
            {
                string text = cells[(r, column)].Select(cell => isCut ? Sides(cell) : Darkness(cell)).FirstOrDefault("");
                return recommended.Contains(new(r, column)) ? $"[bold green]►{text}[/]" : text;
            })]);
        }

        return table;
    }

    private static string Darkness(CellReading cell) =>
        cell.Flags.Any(CellFlag.IsDisqualifying) ? "[grey]lost[/]" : cell.Darkness is { } darkness ? $"{darkness.Value:0.00}" : "–";

    private static string Sides(CellReading cell) => cell.Sides is not { } sides
        ? "–"
        : string.Concat(new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Select(side => side.State switch
        {
            SideState.Open => '●',
            SideState.Partial => '◐',
            SideState.Closed => '○',
            _ => '?',
        }));

    private static string Name(Setting setting) => setting switch
    {
        Setting.PowerPercent => "power %",
        Setting.SpeedMmPerMin => "speed mm/min",
        Setting.Passes => "passes",
        Setting.FocusOffsetMm => "focus mm",
        _ => "interval mm",
    };
}
