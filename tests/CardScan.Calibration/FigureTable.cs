using System.Text;

namespace CardScan.Calibration;

/// <summary>A table as text for a terminal or for a Markdown page.</summary>
internal sealed record FigureTable(string Title, string[] Head, string[][] Rows)
{
    /// <summary>Words, not figures: set from the left.</summary>
    public bool IsProse { get; init; }

    public string ToText()
    {
        string[][] all = [Head, .. Rows];
        int[] widths = [.. Head.Select((_, column) => all.Max(row => row[column].Length))];
        StringBuilder text = new StringBuilder(Title).AppendLine();
        foreach (string[] row in all)
            text.AppendJoin("  ", row.Select((value, column) =>
                column == 0 || IsProse ? value.PadRight(widths[column]) : value.PadLeft(widths[column]))).AppendLine();
        return text.AppendLine().ToString();
    }

    public string ToMarkdown()
    {
        StringBuilder text = new StringBuilder("### ").AppendLine(Title).AppendLine();
        text.Append("| ").AppendJoin(" | ", Head).AppendLine(" |");
        text.Append("| --- |").Append(string.Concat(Enumerable.Repeat(IsProse ? " --- |" : " ---: |", Head.Length - 1))).AppendLine();
        foreach (string[] row in Rows) text.Append("| ").AppendJoin(" | ", row).AppendLine(" |");
        return text.AppendLine().ToString();
    }
}
