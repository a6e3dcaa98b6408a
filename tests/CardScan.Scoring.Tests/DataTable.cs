namespace CardScan.Scoring.Tests;

/// <summary>A CSV file of the Data folder.</summary>
internal sealed record DataTable(string[] Header, string[][] Rows)
{
    public static DataTable Read(string name)
    {
        using StreamReader reader = new(typeof(DataTable).Assembly.GetManifestResourceStream(name)
            ?? throw new ArgumentException($"No data file {name}.", nameof(name)));
        string[][] lines =
            [.. reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Trim().Split(','))];
        return new(lines[0], lines[1..]);
    }

    public double[] Numbers(string column) => [.. Words(column).Select(double.Parse)];

    public string[] Words(string column)
    {
        int index = Array.IndexOf(Header, column);
        return [.. Rows.Select(row => row[index])];
    }

    public DataTable Where(string column, string value)
    {
        int index = Array.IndexOf(Header, column);
        return this with { Rows = [.. Rows.Where(row => row[index] == value)] };
    }
}
