namespace CardScan.Planning.Tests;

public class MarkerPatternTests
{
    [Fact] // Data/README.md names the source of the bits.
    public void Markers_0_to_59_have_the_bits_of_the_published_dictionary()
    {
        string[][] rows = [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Data", "aruco_6x6_1000_ids0-59.csv"))
            .Skip(1).Select(line => line.Split(','))];
        Assert.Equal(60, rows.Length);
        foreach (string[] fields in rows)
        {
            int id = int.Parse(fields[0]);
            for (int row = 0; row < 6; row++)
            {
                for (int column = 0; column < 6; column++)
                    Assert.Equal(fields[row + 1][column] == '0', MarkerPattern.IsBurned(id, row + 1, column + 1));
            }
        }
    }

    [Fact] // Smallest distance of DICT_6X6_1000 over all ids and turns, computed from OpenCV 4.6.0's dictionary: 9.
    public void All_1000_markers_differ_in_at_least_9_modules_however_they_are_turned()
    {
        ulong[][] turned = [.. Enumerable.Range(0, 1000).Select(id => Enumerable.Range(0, 4).Select(turns => Code(id, turns)).ToArray())];
        int smallest = int.MaxValue;
        for (int a = 0; a < 1000; a++)
        {
            for (int b = a; b < 1000; b++)
            {
                for (int turn = a == b ? 1 : 0; turn < 4; turn++)
                    smallest = Math.Min(smallest, System.Numerics.BitOperations.PopCount(turned[a][0] ^ turned[b][turn]));
            }
        }

        Assert.Equal(9, smallest);
    }

    [Fact]
    public void Every_marker_has_a_burned_border()
    {
        for (int id = 0; id < 1000; id++)
        {
            for (int i = 0; i < 8; i++)
                Assert.True(MarkerPattern.IsBurned(id, 0, i) && MarkerPattern.IsBurned(id, 7, i)
                    && MarkerPattern.IsBurned(id, i, 0) && MarkerPattern.IsBurned(id, i, 7));
        }
    }

    private static ulong Code(int id, int turns)
    {
        ulong code = 0;
        for (int i = 0; i < 36; i++)
        {
            (int row, int column) = (i / 6, i % 6);
            for (int turn = 0; turn < turns; turn++) (row, column) = (column, 5 - row);
            code = code << 1 | (MarkerPattern.IsBurned(id, row + 1, column + 1) ? 0UL : 1);
        }

        return code;
    }
}
