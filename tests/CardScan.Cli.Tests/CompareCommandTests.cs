using System.Text.Json;
using CardScan.Model;
using CardScan.Workflow.Tests;

namespace CardScan.Cli.Tests;

public sealed class CompareCommandTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public CompareCommandTests()
    {
        Assert.Equal(0, Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", _scratch["old"]).Code);
        Assert.Equal(0, Cli.Run("read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", _scratch["new"]).Code);
    }

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void The_one_answer_comes_first_then_why_then_the_ratio_then_the_files()
    {
        CliRun run = Cli.Run("compare", _scratch["old"], _scratch["new"], "--out", _scratch["both"]);

        Assert.Equal(0, run.Code);
        string[] lines = run.Output.Split('\n');
        Assert.StartsWith("B-0597  Keep 1500 mm/min at 80 % for B-0597 too", lines[0], StringComparison.Ordinal);
        Assert.Contains("the setting of B-0412 would be 13", lines[1], StringComparison.Ordinal);
        Assert.Contains("B-0597 needs 1.1", lines[2], StringComparison.Ordinal);
        Assert.Contains(_scratch["both/comparison.html"], run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', run.Output);
        // The second batch was made to need 1.12 times the energy.
        using JsonDocument comparison = JsonDocument.Parse(File.ReadAllBytes(_scratch["both/comparison.json"]));
        JsonElement pair = comparison.RootElement.GetProperty("pairs")[0], dose = pair.GetProperty("relativeDose");
        JsonElement answer = pair.GetProperty("answer");
        Assert.Equal(("ownReading", 1500), (answer.GetProperty("source").GetString(), answer.GetProperty("speedMmPerMin").GetDouble()));
        Assert.InRange(1.12, dose.GetProperty("low").GetDouble(), dose.GetProperty("high").GetDouble());
        Assert.Equal(2, File.ReadAllText(_scratch["both/comparison.html"]).Split("data:image/jpeg").Length - 1);
    }

    [Fact]
    public void A_cut_card_and_an_engraved_one_are_told_apart_by_their_names()
    {
        string folder = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");
        CliRun read = Cli.Run("read", Path.Combine(folder, "lime-cut-left.jpg"), "--plan", Path.Combine(folder, "plan.json"),
            "--out", _scratch["cut"]);
        Assert.True(File.Exists(_scratch["cut/reading.json"]), read.Errors);
        CliRun run = Cli.Run("compare", _scratch["cut"], _scratch["old"], "--out", _scratch["both"]);

        Assert.Equal(2, run.Code);
        Assert.Contains("B-0412 is an engraved card and ", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains(" a cut one", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_third_card_in_the_photo_without_a_plan_is_told_by_number_and_code_and_the_others_are_compared()
    {
        string both = _scratch.Write("both.jpg", PhotoOfBoth.Of(Cli.Photo, Cli.SecondPhoto));
        string three = _scratch.Write(
            "three.jpg", PhotoOfBoth.Of(both, Path.Combine(AppContext.BaseDirectory, "Data", "coated-metal-engrave.jpg")));
        CliRun run = Cli.Run("compare", three, "--plan", Cli.Plan, "--plan", Cli.SecondPlan, "--out", _scratch["pair"]);

        Assert.Equal(2, run.Code);
        Assert.Contains("42", run.Errors, StringComparison.Ordinal);
        Assert.Contains(" needs ", run.Output, StringComparison.Ordinal);
        // What was only taken into account is no warning.
        Assert.StartsWith("Both cards are in the same photo",
            run.Output.Split('\n').Single(line => line.Contains("[one-light]", StringComparison.Ordinal)).TrimStart(),
            StringComparison.Ordinal);
        Assert.True(File.Exists(_scratch["pair/comparison.json"]));
    }

    [Fact]
    public void The_json_alone_is_printed_and_nothing_written()
    {
        CliRun run = Cli.Run("compare", _scratch["old/reading.json"], _scratch["new/reading.json"], "--json", "--margin", "20");

        Assert.Equal(0, run.Code);
        using JsonDocument comparison = JsonDocument.Parse(run.Output);
        Assert.Equal("cardscan-comparison/1", comparison.RootElement.GetProperty("format").GetString());
        Assert.Equal("equal", comparison.RootElement.GetProperty("pairs")[0].GetProperty("verdict").GetString());
    }

    [Fact]
    public void Repeats_set_the_floor_and_are_told()
    {
        Reading read = CardJson.ReadReading(File.ReadAllBytes(_scratch["old/reading.json"])).Value;
        Reading again = read with
        {
            Photos = [read.Photos[0] with { Sha256 = new('a', 64) }],
            Cells = read.Cells.Select(cell => cell with { Darkness = cell.Darkness! with { Value = 1.03 * cell.Darkness.Value } })
                .ToValueList(),
        };
        CliRun run = Cli.Run("compare", _scratch["old"], _scratch["new"], "--json", "--repeats", _scratch["old"],
            _scratch.Write("again.json", CardJson.Write(again)));

        Assert.Equal(0, run.Code);
        using JsonDocument comparison = JsonDocument.Parse(run.Output);
        Assert.Equal(30, comparison.RootElement.GetProperty("repeatability").GetProperty("cells").GetInt32());
        string copy = _scratch.Write("copy.json", CardJson.Write(read));
        Assert.Contains("from the same photo",
            Cli.Run("compare", _scratch["old"], _scratch["new"], "--repeats", _scratch["old"], copy).OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void An_earlier_comparison_is_replaced_and_nobody_elses_file()
    {
        Assert.Equal(0, Cli.Run("compare", _scratch["old"], _scratch["new"], "--out", _scratch["both"]).Code);
        Assert.Equal(0, Cli.Run("compare", _scratch["new"], _scratch["old"], "--out", _scratch["both"]).Code);
        File.WriteAllText(_scratch["both/comparison.json"], "mine");
        CliRun run = Cli.Run("compare", _scratch["old"], _scratch["new"], "--out", _scratch["both"]);

        Assert.Equal(2, run.Code);
        Assert.Contains("no comparison that CardScan wrote", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_compared_ends_in_one_line_and_code_2()
    {
        Assert.Equal(2, Cli.Run("compare", _scratch["old"]).Code);
        Assert.Contains("given twice", Cli.Run("compare", _scratch["old"], _scratch["old/reading.json"]).OnlyLine(),
            StringComparison.Ordinal);
        Assert.Contains("does not exist", Cli.Run("compare", _scratch["old"], _scratch["none"]).OnlyLine(), StringComparison.Ordinal);
        string copy = _scratch.Write("copy.json", File.ReadAllText(_scratch["old/reading.json"]));
        Assert.Contains("from the same photo", Cli.Run("compare", _scratch["old"], copy).OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(2, Cli.Run("compare", _scratch["old"], _scratch["new"], "--margin", "0").Code);
    }
}
