using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Cards and strips that take the archive's next free number.</summary>
public sealed class FreeNumberTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    private ArchivePlace Place => new(Path.Combine(_scratch, "archive"), TimeProvider.System);

    private CardRequest Slate => new()
    {
        Plan = new()
        {
            Material = new() { Name = "slate" }, Machine = new() { Name = "bench diode", RatedOpticalWatts = 10 },
            Settings = [new(Setting.PowerPercent, [20, 80]), new(Setting.SpeedMmPerMin, [1000, 3000])],
        },
        TakesFreeNumber = true,
        OutputFolder = Path.Combine(_scratch, CardRequest.FolderOfCard),
        Archive = Place,
    };

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    /// <summary>Whoever had to wait here would wait for ever, and be told after half a minute that the archive is busy.</summary>
    [Fact]
    public void While_a_card_is_drawn_others_get_numbers_of_their_own()
    {
        List<int> numbers = [];
        MadeCard first = MakeCard.Run(Slate with
        {
            BeforeWriting = _ =>
            {
                numbers.Add(MakeCard.Run(Slate).Value.Plan.Number);
                numbers.Add(MakeStrip.Run(new() { OutputFolder = null, Archive = Place }).Value.Plan.Number);
            },
        }).Value;
        Assert.Equal([0, 1, 2], [first.Plan.Number, .. numbers]);
    }

    [Fact]
    public void Cards_and_strips_that_are_made_at_once_never_share_a_number()
    {
        int[] numbers = [.. Enumerable.Range(0, 8).AsParallel().WithDegreeOfParallelism(8).Select(i => i % 2 == 0
            ? MakeCard.Run(Slate).Value.Plan.Number
            : MakeStrip.Run(new() { OutputFolder = null, Archive = Place }).Value.Plan.Number)];
        Assert.Equal(Enumerable.Range(0, 8), numbers.Order());
    }

    [Fact]
    public void A_number_whose_card_or_strip_cannot_be_drawn_is_given_back()
    {
        string file = Path.Combine(_scratch, "file");
        File.WriteAllText(file, "");
        Assert.True(MakeStrip.Run(new() { OutputFolder = file, Archive = Place }).IsRefused);
        Assert.True(MakeCard.Run(Slate with { OutputFolder = file }).IsRefused);
        Assert.Throws<DllNotFoundException>(() => MakeCard.Run(Slate with { BeforeWriting = _ => throw new DllNotFoundException() }));
        Assert.Equal(0, Place.Find(new()).Value.Count);
        Assert.Equal(0, MakeStrip.Run(new() { OutputFolder = null, Archive = Place }).Value.Plan.Number);
    }

    [Fact]
    public void A_plan_that_was_kept_before_is_not_taken_back()
    {
        KeptCard kept = Place.Use(archive => archive.KeepCard(MakeCard.JsonOf(Planning.CardPlanner.MakePlan(Slate.Plan).Value)),
            mayMake: true).Value;
        Assert.False(Place.Use(archive => archive.TakeBack(kept with { IsNew = false })).IsRefused);
        Assert.Equal(1, Place.Find(new()).Value.Count);
    }
}
