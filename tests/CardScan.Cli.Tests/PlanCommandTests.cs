using CardScan.Model;

namespace CardScan.Cli.Tests;

public class PlanCommandTests
{
    private static readonly string[] Usual = ["plan", "--material", "birch plywood", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3"];

    [Fact]
    public void A_plan_and_its_drawing_are_written_and_the_cautions_shown()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run([.. Usual, "--number", "42", "--out", scratch["out"]]);
        Assert.Equal(0, run.Code);
        Assert.Equal(["out", "out/card.svg", "out/plan.json"], scratch.Files);
        Assert.Equal(42, CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Number);
        Assert.Contains("EN 207", run.Errors, StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("EN 207", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_plan_may_be_made_again_but_another_one_is_never_replaced()
    {
        using Scratch scratch = new();
        string[] command = [.. Usual, "--out", scratch["out"]];
        Assert.Equal(0, Cli.Run(command).Code);
        string plan = File.ReadAllText(scratch["out/plan.json"]);
        Assert.Equal(0, Cli.Run(command).Code);
        CliRun other = Cli.Run([.. command, "--number", "7"]);
        Assert.Equal(2, other.Code);
        Assert.Contains("holds another plan", other.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(plan, File.ReadAllText(scratch["out/plan.json"]));
    }

    [Theory]
    [InlineData("--watts", "2,5", "--watts has \"2,5\"")] // a decimal comma is never read as something else
    [InlineData("--watts", "NaN", "--watts has \"NaN\"")]
    [InlineData("--number", "250", "--number has \"250\"")]
    [InlineData("--cell", "1e3", "--cell has \"1e3\"")]
    [InlineData("--gap", "2", "--gap has \"2\"")]
    [InlineData("--card", "120", "--card has \"120\"")]
    [InlineData("--card", "-120x100", "--card has \"-120x100\"")]
    [InlineData("--card", "30x30", "--card is 30 × 30 mm, and 4 × 3 cells need at least")]
    [InlineData("--power", "140", "--power has 140: give more than 0, at most 100 %")]
    [InlineData("--power", "80:20:4", "--power runs from 80 to 20")]
    [InlineData("--speed", "0", "--speed has 0")]
    [InlineData("--speed", "100:5000:2000", "--speed asks for \"2000\" values")]
    [InlineData("--process", "melt", "melt")]
    public void Wrong_options_end_in_a_clear_line_and_exit_code_2_without_a_file(string option, string value, string says)
    {
        using Scratch scratch = new();
        int at = Array.IndexOf(Usual, option);
        string[] command = at < 0 ? [.. Usual, option, value] : [.. Usual[..(at + 1)], value, .. Usual[(at + 2)..]];
        CliRun run = Cli.Run([.. command, "--out", scratch["out"]]);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
        Assert.Empty(run.Output);
        Assert.Empty(scratch.Files);
    }

    [Fact]
    public void A_focus_range_may_begin_below_the_surface()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("plan", "--material", "m", "--watts", "10", "--power", "50", "--speed", "1000:3000:3", "--focus-offset=-2:2:5", "--out", scratch["out"]).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal([-2.0, -1, 0, 1, 2], plan.Rows.Values);
    }
}
