namespace CardScan.Vision.Tests.Rendering;

/// <summary>Bits of the markers of DICT_6X6_1000, from the reference tables and not from the library under test.</summary>
internal static class MarkerBits
{
    /// <summary>Modules along a side: six of bits, one of border at each end.</summary>
    public const int Modules = 8;

    private static readonly Dictionary<int, string> BitsById = new[] { "aruco_6x6_1000_ids0-59.csv", "aruco_6x6_1000_ids224-227.csv" }
        .SelectMany(ReferenceTable.Read)
        .ToDictionary(row => row.Int("id"), row => string.Concat(Enumerable.Range(0, 6).Select(i => row.Text($"row{i}"))));

    /// <summary>True where the module is black (burned): the border and the zero bits.</summary>
    public static bool IsBlack(int id, int row, int column) =>
        row is 0 or Modules - 1 || column is 0 or Modules - 1 || BitsById[id][6 * (row - 1) + column - 1] == '0';
}
