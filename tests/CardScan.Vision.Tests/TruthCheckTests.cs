using CardScan.TruthCheck;

namespace CardScan.Vision.Tests;

/// <summary>The shipped photos against their truth, by the same check that runs over any folder.</summary>
public sealed class TruthCheckTests
{
    private static readonly TruthFolder Shipped = TruthFolder.Load(PhotoFiles.Fixture("cases.json"));

    public static TheoryData<string> Names() => [.. Shipped.Groups.Select(group => group.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_shipped_photos_are_measured_or_refused_as_the_targets_ask(string name)
    {
        CaseResult result = CaseCheck.Run(Shipped.Groups.Single(group => group.Name == name));

        // The recommendation is the scoring's: below, where the photo carries it.
        Assert.DoesNotContain(result.Misses, miss => !miss.StartsWith("fastest full mark", StringComparison.Ordinal)
            && !miss.StartsWith("darkest", StringComparison.Ordinal));
    }

    [Fact]
    public void The_birch_photo_leads_to_the_settings_that_truth_calls_best()
    {
        CaseResult result = CaseCheck.Run(Shipped.Groups.Single(group => group.Name == "birch-engrave"));

        Assert.True(result.Engraved!.FastestFullMark.IsRight, $"{result.Engraved.FastestFullMark}");
        Assert.True(result.Engraved.Darkest.IsRight, $"{result.Engraved.Darkest}");
    }

    [Fact]
    public void The_shipped_photos_are_all_there() =>
        Assert.Equal(["birch-engrave", "coated-metal-engrave", "birch-corners-covered"], Shipped.Groups.Select(group => group.Name));

    [Fact]
    public void A_wrong_reading_does_not_pass_the_check()
    {
        // The truth of another card: every figure must be missed.
        CaseGroup birch = Shipped.Groups[0];
        CaseGroup swapped = birch with { Cases = [birch.First with { Truth = Shipped.Groups[1].First.Truth }] };

        CaseResult result = CaseCheck.Run(swapped);

        Assert.Contains(result.Misses, miss => miss.StartsWith("cells", StringComparison.Ordinal));
        Assert.Contains(result.Misses, miss => miss.StartsWith("darkness", StringComparison.Ordinal));
    }

    [Fact]
    public void A_photo_that_should_have_been_refused_does_not_pass_the_check()
    {
        CaseGroup birch = Shipped.Groups[0];

        CaseResult result = CaseCheck.Run(birch with { Cases = [birch.First with { Expected = "refuse" }] });

        Assert.Equal("was measured, must be refused", Assert.Single(result.Misses));
    }

    [Fact] // Spearman's ρ with ties is Pearson's of mean ranks: ranks 1 2.5 2.5 4 against 1 2 3 4 give 4.5/√(4.5 · 5)
    public void Spearman_shares_ranks_among_ties() =>
        Assert.Equal(4.5 / Math.Sqrt(4.5 * 5), Figures.Spearman([1, 2, 2, 3], [10, 20, 30, 40]), 1e-12);
}
