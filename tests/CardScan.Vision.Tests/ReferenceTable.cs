using System.Globalization;

namespace CardScan.Vision.Tests;

/// <summary>Rows of a table in Data/; sources are named in Data/README.md.</summary>
internal static class ReferenceTable
{
    public static IReadOnlyList<ReferenceRow> Read(string file)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Data", file));
        string[] head = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => line.Length > 0).Select(line => new ReferenceRow(head, line.Split(',')))];
    }
}

internal sealed record ReferenceRow(string[] Head, string[] Values)
{
    public string Text(string column) => Values[Array.IndexOf(Head, column)];

    public int Int(string column) => int.Parse(Text(column), CultureInfo.InvariantCulture);

    public double Number(string column) => double.Parse(Text(column), CultureInfo.InvariantCulture);
}
