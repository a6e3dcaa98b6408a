namespace CardScan.Cli.Tests;

public class CarryCommandTests
{
    [Fact]
    public void A_card_of_the_old_machine_is_carried_to_one_that_is_kept_and_nothing_of_it_is_called_sure()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan, "--out", "out").Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", "second").Code);
        Assert.Equal(0, Cli.RunIn(
            scratch["."], "profile", "machine", "new module", "--watts", "20", "--wavelength", "455", "--fastest-feed", "10000").Code);

        CliRun run = Cli.RunIn(scratch["."], "carry", "--from", "workshop diode, 10 W optical", "--to", "new module");

        Assert.Equal(0, run.Code);
        Assert.Contains("No material was burned on both machines yet", run.Output, StringComparison.Ordinal);
        Assert.Contains("Fastest full mark: try", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Sure", run.Output, StringComparison.Ordinal);
        Assert.Contains("Nothing below was burned on the new machine", run.Output, StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", run.Errors, StringComparison.Ordinal);
        CliRun json = Cli.RunIn(scratch["."], "carry", "--from", "workshop diode, 10 W optical", "--to", "new module", "--json");
        Assert.Contains("\"isBurnedOnThisMachine\": false", json.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_machine_that_nobody_knows_is_refused_with_those_that_are_known()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", "second").Code);

        CliRun run = Cli.RunIn(scratch["."], "carry", "--from", "attic", "--to", "workshop diode");

        Assert.Equal(2, run.Code);
        Assert.Contains("workshop diode, 10 W", run.Errors, StringComparison.Ordinal);
        Assert.Contains("[carry-unknown]", run.Errors, StringComparison.Ordinal);
    }
}
