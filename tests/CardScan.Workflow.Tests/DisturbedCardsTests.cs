using CardScan.Robustness;

namespace CardScan.Workflow.Tests;

/// <summary>
/// A short fixed run of the generator. It tells no rates, those are in docs/robustness.md: its photos are a stretch of that
/// run in which nothing was wrong, so that a change by which something gets wrong is noticed.
/// </summary>
public class DisturbedCardsTests
{
    [Fact]
    public void Photos_of_which_nothing_was_silently_wrong_stay_so()
    {
        Verdict[] verdicts = Campaign.Run(new RunArguments(Photos: 20, Seed: 1, First: 620), _ => { });

        Assert.All(verdicts, verdict => Assert.False(verdict.Outcome == Outcome.SilentlyWrong,
            $"{verdict.Recipe.Number} {verdict.Code}: {verdict.Message} ({verdict.Recipe})"));
        Assert.True(verdicts.Count(verdict => verdict.Outcome == Outcome.Useful) >= 10);
        Assert.All(verdicts, verdict => Assert.True(verdict.Outcome == Outcome.Useful || verdict.Message.Length > 0));
    }

    [Fact]
    public void The_same_seed_and_number_give_the_same_photo()
    {
        Assert.Equal(PhotoMaker.Make(Recipe.Of(seed: 2, number: 5)), PhotoMaker.Make(Recipe.Of(seed: 2, number: 5)));
    }
}
