using System.Globalization;

namespace CardScan.Planning;

/// <summary>The pictures of the 1000 markers of DICT_6X6_1000.</summary>
/// <remarks>
/// marker-bits.txt holds one marker a line, id 0 first: its 6 × 6 inner bits row by row, the first the most significant,
/// 1 bare and 0 burned, as nine hexadecimal digits. Source: the predefined dictionary of OpenCV 4.6.0.
/// </remarks>
internal static class MarkerPattern
{
    /// <summary>Modules along a side, the burned border of one module included.</summary>
    internal const int Modules = 8;

    private const int Bits = 6;

    private static readonly ulong[] Dictionary = Load();

    /// <summary>True where a module is burned.</summary>
    /// <param name="id">0 to 999.</param>
    /// <param name="row">0 to 7, from the top.</param>
    /// <param name="column">0 to 7, from the left.</param>
    internal static bool IsBurned(int id, int row, int column)
    {
        bool isBorder = row is 0 or Modules - 1 || column is 0 or Modules - 1;
        return isBorder || (Dictionary[id] >> (Bits * Bits - 1 - ((row - 1) * Bits + column - 1)) & 1) == 0;
    }

    /// <summary>The burned stretches of a row of modules: first module and number of modules.</summary>
    internal static IEnumerable<(int Start, int Length)> Runs(int id, int row)
    {
        int start = 0;
        while (start < Modules)
        {
            int end = start;
            while (end < Modules && IsBurned(id, row, end)) end++;
            if (end > start) yield return (start, end - start);
            start = end + 1;
        }
    }

    private static ulong[] Load()
    {
        using Stream stream = typeof(MarkerPattern).Assembly.GetManifestResourceStream("marker-bits.txt")!;
        using StreamReader reader = new(stream);
        return [.. reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => ulong.Parse(line, NumberStyles.HexNumber, CultureInfo.InvariantCulture))];
    }
}
