using CardScan.Robustness;

namespace CardScan.Workflow.Tests;

/// <summary>A short fixed run of the generator; the long one is docs/robustness.md.</summary>
public class DisturbedCardsTests
{
    [Fact]
    public void A_short_fixed_run_of_disturbed_photos_is_read_or_refused_and_nothing_is_silently_wrong()
    {
        Verdict[] verdicts = Campaign.Run(new RunArguments(Photos: 20, Seed: 1, First: 300), _ => { });

        Assert.All(verdicts, verdict => Assert.False(verdict.Outcome == Outcome.SilentlyWrong, $"{verdict.Recipe.Number} {verdict.Code}: {verdict.Message} ({verdict.Recipe})"));
        Assert.True(verdicts.Count(verdict => verdict.Outcome == Outcome.Useful) >= 10);
        Assert.All(verdicts, verdict => Assert.True(verdict.Outcome == Outcome.Useful || verdict.Message.Length > 0));
    }

    [Fact]
    public void The_same_seed_and_number_give_the_same_photo()
    {
        Assert.Equal(PhotoMaker.Make(Recipe.Of(seed: 2, number: 5)), PhotoMaker.Make(Recipe.Of(seed: 2, number: 5)));
    }
}
