namespace CardScan.Planning;

/// <summary>The colours that stand for settings in a drawing, none of them twice.</summary>
/// <remarks>
/// setting-colours.txt holds one colour a line, RRGGBB, the first black. They were chosen by the rule of
/// docs/method/setting-colours.md, which a test repeats.
/// </remarks>
internal static class SettingColours
{
    private static readonly string[] Table = Load();

    /// <summary>How many there are: enough for the most cells of a card, its markers and its labels.</summary>
    internal static int Count => Table.Length;

    /// <summary>A colour as <c>#RRGGBB</c>.</summary>
    /// <param name="index">From 0 (black) to below <see cref="Count"/>; neighbours differ plainly.</param>
    internal static string At(int index) => $"#{Table[index]}";

    private static string[] Load()
    {
        using Stream stream = typeof(SettingColours).Assembly.GetManifestResourceStream("setting-colours.txt")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
