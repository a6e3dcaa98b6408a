namespace CardScan.Cli.Tests;

public class CommandLineTests
{
    [Theory]
    [InlineData("read")]
    [InlineData("plan", "--frobnicate")]
    [InlineData("frobnicate")]
    [InlineData]
    public void A_wrong_command_line_points_to_the_help_without_printing_it(params string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        Assert.Empty(run.Output);
        Assert.Contains("--help", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Usage:", run.Errors, StringComparison.Ordinal);
        Assert.All(run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries), line => Assert.StartsWith("cardscan: ", line, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("plan")]
    [InlineData("read")]
    [InlineData("score")]
    public void Help_of_each_command_ends_with_an_example(string command)
    {
        CliRun run = Cli.Run(command, "--help");
        Assert.Equal(0, run.Code);
        Assert.Contains($"  cardscan {command} ", run.Output, StringComparison.Ordinal);
        Assert.Empty(run.Errors);
    }

    public static TheoryData<string[]> EmptyNames =>
    [
        ["read", "", "--plan", Cli.Plan],
        ["read", Cli.Photo, "--plan", ""],
        ["read", Cli.Photo, "--plan", Cli.Plan, "--out", ""],
        ["read", Cli.Photo, "--plan", Cli.Plan, "--out", "  "],
        ["score", ""],
        ["demo", "--out", ""],
        ["plan", "--material", "m", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3", "--out", ""],
    ];

    [Theory]
    [MemberData(nameof(EmptyNames))]
    public void An_empty_name_ends_in_one_plain_line_and_exit_code_2(string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        Assert.Contains("is empty", run.OnlyLine(), StringComparison.Ordinal);
        Assert.DoesNotContain("fault in CardScan", run.Errors, StringComparison.Ordinal);
        Assert.Empty(run.Output);
    }

    [Fact]
    public void Words_can_be_completed_by_a_shell() => Assert.Equal("plan", Cli.Run("[suggest:2]", "pl").Output.Trim());

    [Fact]
    public void The_demo_reads_every_shipped_card_and_tells_where_the_page_is()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("demo", "--out", scratch["demo"]);
        Assert.Equal(0, run.Code);
        foreach (string card in Directory.GetDirectories(Path.Combine(AppContext.BaseDirectory, "demo")))
        {
            foreach (string file in (string[])["report.html", "annotated.png", "reading.json", "cells.csv"])
                Assert.True(File.Exists(Path.Combine(scratch["demo"], Path.GetFileName(card), file)), file);
        }

        Assert.Contains("report.html in a browser", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain(scratch.Files, name => name.EndsWith(".part", StringComparison.Ordinal));
    }
}
