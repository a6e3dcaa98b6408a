using CardScan.Language;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Rows under headings: a table for a person, lines with tabs for a program.</summary>
internal static class TablePrinter
{
    /// <summary>The heading of a column.</summary>
    /// <param name="column">Its key.</param>
    public static string Heading(string column) => Voice.Say($"terminal.column.{column}");

    /// <summary>Prints the rows; their texts are plain. A person does not see columns that are empty all the way down.</summary>
    public static void Print(Terminal terminal, IEnumerable<string> columns, IReadOnlyList<string[]> rows)
    {
        string[] headings = [.. columns.Select(Heading)];
        if (!terminal.IsOutputTerminal)
        {
            foreach (string[] row in rows.Prepend(headings)) terminal.ShowLine(string.Join('\t', row.Select(OnOneLine)));
            return;
        }

        int[] shown = [.. Enumerable.Range(0, headings.Length).Where(column => rows.Any(row => row[column].Length > 0))];
        Table table = new() { Border = TableBorder.None };
        // What is short stays whole; what is left of the width is for the long texts.
        foreach (int column in shown)
        {
            bool isShort = rows.All(row => row[column].Length <= 12);
            table.AddColumn(new TableColumn($"[bold]{Markup.Escape(headings[column])}[/]") { NoWrap = isShort });
        }

        foreach (string[] row in rows) table.AddRow([.. shown.Select(column => Markup.Escape(row[column]))]);
        terminal.Show(table);
    }

    private static string OnOneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
}
