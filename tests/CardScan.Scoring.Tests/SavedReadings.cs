using CardScan.Model;

namespace CardScan.Scoring.Tests;

/// <summary>The readings of fixtures/readings.</summary>
internal static class SavedReadings
{
    private static readonly System.Reflection.Assembly Own = typeof(SavedReadings).Assembly;

    /// <summary>Names of the files in a folder, without the folder.</summary>
    public static IEnumerable<string> In(string folder) => Own.GetManifestResourceNames()
        .Select(name => name.Replace('\\', '/'))
        .Where(name => name.StartsWith($"{folder}/", StringComparison.Ordinal) && !name.EndsWith("truth.json", StringComparison.Ordinal))
        .Select(name => name[(folder.Length + 1)..]).Order(StringComparer.Ordinal);

    public static Reading Load(string folder, string file)
    {
        string name = Own.GetManifestResourceNames().Single(each => each.Replace('\\', '/') == $"{folder}/{file}");
        using Stream stream = Own.GetManifestResourceStream(name)!;
        using MemoryStream bytes = new();
        stream.CopyTo(bytes);
        return CardJson.ReadReading(bytes.ToArray()).Value;
    }
}
