using CardScan.Language;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Rows under headings: a table for a person, lines with tabs for a program.</summary>
internal static class TablePrinter
{
    /// <summary>Words are cut to no less than this, letters.</summary>
    private const int LeastWords = 12;

    /// <summary>The heading of a column.</summary>
    /// <param name="column">Its key.</param>
    public static string Heading(string column) => Voice.Say($"terminal.column.{column}");

    /// <summary>Prints the rows; their texts are plain. A person does not see columns that are empty all the way down.</summary>
    public static void Print(Terminal terminal, IReadOnlyList<string> columns, IReadOnlyList<string[]> rows)
    {
        string[] headings = [.. columns.Select(Heading)];
        if (!terminal.IsOutputTerminal)
        {
            foreach (string[] row in rows.Prepend(headings)) terminal.ShowLine(string.Join('\t', row.Select(OnOneLine)));
            return;
        }

        int[] shown = [.. Enumerable.Range(0, headings.Length).Where(column => rows.Any(row => row[column].Length > 0))];
        int[] widths = [.. shown.Select(column => Math.Max(headings[column].Length, rows.Max(row => row[column].Length)))];
        foreach (int i in Cuttable(shown, [.. columns], widths, terminal.Width)) widths[i] = LeastWords;
        if (WidthOf(widths) > terminal.Width)
        {
            foreach (string[] row in rows) PrintBlock(terminal, headings, shown, row);
            return;
        }

        Table table = new() { Border = TableBorder.None };
        foreach (int column in shown) table.AddColumn(new TableColumn($"[bold]{Markup.Escape(headings[column])}[/]") { NoWrap = true });
        foreach (string[] row in rows) table.AddRow([.. shown.Zip(widths, (column, width) => Markup.Escape(Cut(row[column], width)))]);
        terminal.Show(table);
    }

    /// <summary>Words that a table may cut, one after the other, until it fits; figures are never cut.</summary>
    private static IEnumerable<int> Cuttable(int[] shown, string[] columns, int[] widths, int most)
    {
        int[] longest = [.. Enumerable.Range(0, shown.Length)
            .Where(i => columns[shown[i]] is "title" or "tags" or "machine" && widths[i] > LeastWords).OrderByDescending(i => widths[i])];
        int width = WidthOf(widths);
        foreach (int i in longest)
        {
            if (width <= most) yield break;
            width -= widths[i] - LeastWords;
            yield return i;
        }
    }

    /// <summary>Spectre puts a space on either side of a column.</summary>
    private static int WidthOf(int[] widths) => widths.Sum(width => width + 2);

    private static string Cut(string text, int width) => text.Length <= width ? text : $"{text[..(width - 1)].TrimEnd()}…";

    /// <summary>A row that has no room as one: its values under each other's, each with its heading.</summary>
    private static void PrintBlock(Terminal terminal, string[] headings, int[] shown, string[] row)
    {
        int[] filled = [.. shown.Where(column => row[column].Length > 0)];
        terminal.ShowBlock(row[filled[0]], filled.Skip(1).Select(column => $"{headings[column]} {row[column]}"));
    }

    private static string OnOneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
}
