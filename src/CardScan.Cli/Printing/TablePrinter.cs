using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Rows under headings: a table for a person, lines with tabs for a program.</summary>
internal static class TablePrinter
{
    /// <summary>Prints the rows; their texts are plain. A person does not see columns that are empty all the way down.</summary>
    public static void Print(Terminal terminal, string[] headings, IReadOnlyList<string[]> rows)
    {
        if (!terminal.IsOutputTerminal)
        {
            foreach (string[] row in rows.Prepend(headings)) terminal.ShowLine(string.Join('\t', row.Select(text => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c)))));
            return;
        }

        int[] shown = [.. Enumerable.Range(0, headings.Length).Where(column => rows.Any(row => row[column].Length > 0))];
        Table table = new() { Border = TableBorder.None };
        // What is short stays whole; what is left of the width is for the long texts.
        foreach (int column in shown) table.AddColumn(new TableColumn($"[bold]{Markup.Escape(headings[column])}[/]") { NoWrap = rows.All(row => row[column].Length <= 12) });
        foreach (string[] row in rows) table.AddRow([.. shown.Select(column => Markup.Escape(row[column]))]);
        terminal.Show(table);
    }
}
