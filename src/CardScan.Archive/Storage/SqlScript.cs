using System.Reflection;

namespace CardScan.Archive;

/// <summary>The scripts that make the tables, which the program carries.</summary>
internal static class SqlScript
{
    /// <summary>The text of one.</summary>
    public static string Named(string name)
    {
        using StreamReader reader = new(Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }
}
