namespace CardScan.Planning;

/// <summary>Reads the tables that the assembly carries.</summary>
internal static class DataFile
{
    /// <summary>The lines that are not empty.</summary>
    internal static IReadOnlyList<string> Lines(string name)
    {
        using StreamReader reader = new(typeof(DataFile).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
    }

    /// <summary>The rows of a table behind its heads; no field has a comma.</summary>
    internal static IEnumerable<string[]> Rows(string name) => Lines(name).Skip(1).Select(line => line.Split(','));
}
