using System.Runtime.CompilerServices;
using CardScan.Model;

namespace CardScan.Planning.Tests;

public class SettingColourTests
{
    private static readonly SeenColour[] Table =
        [.. Enumerable.Range(0, SettingColours.Count).Select(i => new SeenColour(SettingColours.At(i)[1..]))];

    /// <summary>With CARDSCAN_WRITE_COLOURS it writes the table that the next build takes.</summary>
    [Fact]
    public void The_colours_are_those_of_the_documented_rule()
    {
        string[] chosen = [.. ColourRule.Chosen(PlanRules.MostCells + 2).Select(colour => colour.Hex)];
        if (Environment.GetEnvironmentVariable("CARDSCAN_WRITE_COLOURS") == "1")
            File.WriteAllText(Path.Combine(SourceFolder(), "setting-colours.txt"), string.Concat(chosen.Select(hex => $"{hex}\n")));
        Assert.Equal(chosen, Table.Select(colour => colour.Hex));
    }

    [Fact]
    public void No_colour_comes_twice_and_there_is_one_for_every_cell_and_for_markers_and_labels()
    {
        Assert.Equal(PlanRules.MostCells + 2, Table.Length);
        Assert.Distinct(Table.Select(colour => colour.Hex));
    }

    /// <summary>The figures of docs/method/setting-colours.md, rounded down.</summary>
    [Theory]
    [InlineData(8, 17)]
    [InlineData(14, 11)]
    [InlineData(24, 7.5)]
    [InlineData(32, 5.9)]
    [InlineData(102, 2.8)]
    [InlineData(1002, 0.3)]
    public void The_first_colours_differ_by_at_least_what_is_documented_with_and_without_every_cone(int count, double least)
    {
        double seen = Table[..count].SelectMany((colour, i) => Table[..i].Select(colour.LeastDifferenceTo)).Min();
        Assert.InRange(seen, least, least * 1.1);
    }

    [Fact]
    public void Neighbours_in_the_list_differ_plainly() =>
        Assert.All(Table.Zip(Table.Skip(1)), pair => Assert.True(pair.First.LeastDifferenceTo(pair.Second) >= ColourRule.LeastStep));

    [Fact]
    public void Every_colour_stands_out_from_white_paper_and_from_black()
    {
        Assert.All(Table, colour => Assert.True(1.05 / (colour.Luminance01 + 0.05) >= ColourRule.LeastContrast, colour.Hex));
        Assert.All(Table.Skip(1), colour => Assert.True(colour.LeastDifferenceTo(ColourRule.Black) >= ColourRule.LeastFromBlack));
    }

    private static string SourceFolder([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "src", "CardScan.Planning"));

    /// <summary>White and every grey look the same to all; pure red and a dark yellow are one colour without the long cone.</summary>
    [Fact]
    public void The_simulation_keeps_greys_and_confuses_what_the_missing_cone_told_apart()
    {
        Assert.All(SeenColour.Missing.SelectMany(matrix => matrix.Chunk(3)), row => Assert.Equal(1, row.Sum(), 1e-5));
        SeenColour red = new("AA0000"), olive = new("443C00");
        Assert.True(red.LeastDifferenceTo(olive) < 6, $"{red.LeastDifferenceTo(olive)}");
    }
}
