using CardScan.Fuzz;

namespace CardScan.Cli.Tests;

public class FuzzTests
{
    [Theory]
    [InlineData("header", 60)]
    [InlineData("photo", 15)]
    [InlineData("plan", 200)]
    [InlineData("reading", 30)]
    [InlineData("profile", 200)]
    [InlineData("bundle", 30)]
    [InlineData("database", 30)]
    [InlineData("command-line", 15)]
    public void A_short_fixed_run_of_the_fuzzer_finds_nothing(string target, int inputs)
    {
        using StringWriter output = new();

        (int _, int findings) = Campaign.RunBatch(target, seed: 1, from: 0, inputs, output);

        Assert.True(findings == 0, output.ToString());
    }

    [Fact]
    public void Damaged_copies_of_the_photos_that_ship_lead_to_no_wrong_setting()
    {
        DamageStudy study = DamageStudy.Run(copies: 60, seed: 3);

        Assert.True(study.Wrong == 0, study.ToString());
    }
}
