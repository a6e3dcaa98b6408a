namespace CardScan.Planning;

/// <summary>Reads the tables that the assembly carries.</summary>
internal static class DataFile
{
    /// <summary>The lines that are neither empty nor, behind <c>#</c>, a remark.</summary>
    internal static IReadOnlyList<string> Lines(string name)
    {
        using StreamReader reader = new(typeof(DataFile).Assembly.GetManifestResourceStream(name)!);
        string[] lines = reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return [.. lines.Where(line => line[0] != '#')];
    }

    /// <summary>The rows of a table behind its heads; no field has the separator in it.</summary>
    internal static IEnumerable<string[]> Rows(string name, char separator = ',') =>
        Lines(name).Skip(1).Select(line => line.Split(separator));
}
